import type { OnProgress } from '../../worker/engine/sourcing/model/mix.ts';
import { GAPS, type EngineRow, type Gap } from './row.ts';

interface Moment {
  seconds: number;
  best: number;
  bound: number;
}

type Told = Pick<
  EngineRow,
  'gapPercent' | 'firstSeconds' | 'firstGapPercent' | 'withinOnePercentSeconds' | 'gapSeconds'
>;

/**
 * Keeps what a solve knew at each time, to tell afterwards when it first had an answer, a good one, and a small gap. `now`:
 * seconds since the solve began. Money is in minor units.
 */
export function knowledgeOver(now: () => number): { heard: OnProgress; ended(end: Moment): Told } {
  const moments: Moment[] = [];
  const learn = (seconds: number, best: number, bound: number) => {
    const last = moments.at(-1) ?? { best: Infinity, bound: -Infinity };
    const next = { seconds, best: Math.min(last.best, best), bound: Math.max(last.bound, bound) };
    if (next.best !== last.best || next.bound !== last.bound) moments.push(next);
  };
  const firstTime = (isSo: (moment: Moment) => boolean) => moments.find(isSo)?.seconds ?? null;
  return {
    heard: ({ best, bound }) => learn(now(), best ?? Infinity, bound ?? -Infinity),
    ended: (end) => {
      learn(end.seconds, end.best, end.bound);
      const first = moments.find(({ best }) => best < Infinity) ?? end;
      return {
        gapPercent: gapOf(end.best, end.bound),
        firstSeconds: first.seconds,
        firstGapPercent: gapOf(first.best, end.best),
        withinOnePercentSeconds: firstTime(({ best }) => gapOf(best, end.best) <= 1) ?? end.seconds,
        gapSeconds: Object.fromEntries(
          GAPS.map((gap) => [gap, firstTime(({ best, bound }) => gapOf(best, bound) <= Number(gap))]),
        ) as Record<Gap, number | null>,
      };
    },
  };
}

/** How much of a cost lies above what is known to be the least, percent. */
function gapOf(cost: number, least: number): number {
  if (cost === Infinity) return Infinity;
  return cost === 0 ? 0 : (Math.max(0, cost - least) / cost) * 100;
}
