import type { LoadTest } from '../model/benchTests.ts';
import { addTo } from '../model/group.ts';
import { dropLimit, heaviestOf, worstDrops } from '../loom/checks/voltageDrop.ts';
import type { AskedLoom } from '../loom/asked.ts';
import type { CheckContext } from '../loom/checks/context.ts';
import type { Conductor } from '../loom/graph/conductors.ts';
import type { OwnCircuits } from './circuits.ts';
import type { BenchPlaces } from './places.ts';

/** A load test is worth its while from this share of the loss that is allowed: common practice, no source. */
const SHARE = 0.5;

/** Wires of one loom, one after the other, in a way that loses much of what it may. */
export type LoadedRun = readonly Conductor[];

/** The stretches of such ways, by the looms in which they are. */
export function loadedRuns(context: CheckContext): (asked: AskedLoom) => readonly LoadedRun[] {
  const byLoom = new Map<AskedLoom, LoadedRun[]>();
  for (const { way, cost } of worstDrops(context)) {
    const heaviest = heaviestOf(way);
    if (!heaviest) continue;
    const { limitMv, backMv } = dropLimit(heaviest);
    if (cost + backMv < SHARE * limitMv) continue;
    for (const run of runsOf(way)) {
      const asked = run[0]?.of.asked;
      if (asked && run.every(({ wireMv }) => wireMv !== undefined)) addTo(byLoom, asked, run);
    }
  }
  return (asked) => byLoom.get(asked) ?? [];
}

/** A way in its stretches within one loom. */
function runsOf(way: readonly Conductor[]): Conductor[][] {
  const runs: Conductor[][] = [];
  for (const link of way) {
    const last = runs.at(-1);
    if (last?.[0]?.of.asked === link.of.asked) last.push(link);
    else runs.push([link]);
  }
  return runs;
}

/**
 * A load test over each stretch, with the smallest current that a wire of it states, so that none is overloaded. What may be
 * lost is that of the check: in copper that is warm, and in every join.
 */
export function loadsOnBench(
  runs: readonly LoadedRun[],
  places: BenchPlaces,
  circuits: OwnCircuits,
): LoadTest[] {
  return runs.flatMap((run): LoadTest[] => {
    const [first, last] = [run[0], run.at(-1)];
    if (!first || !last) return [];
    const [start, end] = outerEnds(run);
    const amps = Math.min(...run.map((link) => link.amps));
    const { jointMillivolts } = first.of.asked.settings;
    const ways = first.of.asked.loom.earth === 'insulatedReturn' ? 2 : 1;
    const copperMv = run.reduce((sum, link) => sum + ((link.wireMv ?? 0) * amps) / link.amps / ways, 0);
    const joins = run.reduce((sum, { joints }) => sum + joints, 0) + run.length - 1;
    const [a, b] = [places.of(first.of.wire, start), places.of(last.of.wire, end)];
    return [
      {
        wires: run.map(({ of }) => of.wire.id),
        a: places.briefly(a),
        b: places.briefly(b),
        amps,
        // Of floating point the last digits are no millivolt.
        millivoltsAtMost: Math.ceil(copperMv + joins * jointMillivolts - 1e-6),
        when: circuits.at(a) === circuits.at(b) ? 'bench' : 'fitted',
      },
    ];
  });
}

/** At which ends of its first and last wire a run begins and ends. */
function outerEnds(run: LoadedRun): ['from' | 'to', 'from' | 'to'] {
  const [first, second] = run;
  const [last, before] = [run.at(-1), run.at(-2)];
  if (!first || !last || !second || !before) return ['from', 'to'];
  const meets = ({ from, to }: Conductor, place: number) => place === from || place === to;
  return [meets(second, first.to) ? 'from' : 'to', meets(before, last.from) ? 'to' : 'from'];
}
