import type { JobLoom } from '../model/job.ts';
import type { End, Wire } from '../model/loom.ts';
import type { EndRule } from '../model/endRules.ts';
import type { Part } from '../model/part.ts';
import { tradeAreaMm2 } from '../trade/wireSizes.ts';

type Point = JobLoom['points'][number];
type Parts = ReadonlyMap<string, Part>;

/**
 * A loom whose ends all say how they are joined, with terminal, seal and cover by the rules where they state none. A rule
 * names a part that the catalogue has, or it says nothing. Done again, it changes nothing.
 */
export function completeEnds(loom: JobLoom, rules: readonly EndRule[], parts: Parts): JobLoom {
  const points = new Map(loom.points.map((point) => [point.id, point]));
  const complete = (wire: Wire, end: End): End => {
    const point = points.get(end.point);
    const filled = withDefaults(wire, end, point, rules, parts);
    return filled.join === undefined ? { ...filled, join: joinAt(filled, point, parts) } : filled;
  };
  return {
    ...loom,
    wires: loom.wires.map((wire) => ({
      ...wire,
      from: complete(wire, wire.from),
      to: complete(wire, wire.to),
    })),
  };
}

/** Ends that are left bare, are joined without a terminal or share one that others state, get none. */
function withDefaults(
  wire: Wire,
  end: End,
  point: Point | undefined,
  rules: readonly EndRule[],
  parts: Parts,
): End {
  if (rules.length === 0 || end.join === 'bare' || end.join === 'joint' || end.sharesTerminal !== undefined)
    return end;
  const size = tradeAreaMm2(wire.size);
  const holding = rules.filter(
    (rule) =>
      (rule.at === undefined || rule.at === point?.kind) &&
      (rule.partAtPoint === undefined || rule.partAtPoint === point?.part) &&
      (rule.overMm2 === undefined || (size !== undefined && size > rule.overMm2)) &&
      (rule.upToMm2 === undefined || (size !== undefined && size <= rule.upToMm2)),
  );
  const pick = (use: 'terminal' | 'seal' | 'cover', among: readonly EndRule[]) => {
    const part = among.map((rule) => rule[use]).find((code) => code !== undefined && parts.has(code));
    return part === undefined ? {} : { [use]: { part, supply: 'buy' as const } };
  };
  const terminal = end.terminal ? {} : pick('terminal', holding);
  const chosen = { ...terminal, ...end }.terminal?.part;
  // The seal and the cover of a rule go with its terminal.
  const fitting = holding.filter((rule) => rule.terminal === undefined || rule.terminal === chosen);
  return { ...pick('seal', fitting), ...pick('cover', fitting), ...terminal, ...end };
}

/** By the terminal; without one, by what the point is: common practice, no source. */
function joinAt(end: End, point: Point | undefined, parts: Parts): NonNullable<End['join']> {
  const terminal = parts.get(end.terminal?.part ?? '');
  if (terminal?.kind === 'terminal') return terminal.join === 'solder' ? 'solder' : 'crimp';
  if (end.terminal !== undefined || end.sharesTerminal !== undefined) return 'crimp';
  if (point?.kind === 'joint') return 'joint';
  return point?.kind === 'connector' || point?.kind === 'stud' || point?.kind === 'joiner' ? 'crimp' : 'bare';
}
