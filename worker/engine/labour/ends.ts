import { sharedKey } from '../loom/counts/terminals.ts';
import { addTo } from '../model/group.ts';
import { joinOf, SIDES, type End, type Wire } from '../model/loom.ts';
import type { Part } from '../model/part.ts';
import type { Count } from './count.ts';

/** An end of a wire; of one that is reused, its terminal may stay on it. */
interface WireEnd {
  end: End;
  isReused: boolean;
}

/**
 * What is done at the ends of a loom's wires, as the bench meets it. An end is stripped for itself; ends that share a terminal
 * are crimped or soldered once, and have one cover; all that meet in a joint are one joint. The end of a reused wire whose
 * terminal is reused, too, stays as it is, but a soldered end without a terminal is soldered anew.
 */
export function countEnds(wires: readonly Wire[], parts: ReadonlyMap<string, Part>, count: Count): void {
  const joins = new Map<string, WireEnd[]>();
  const covered = new Map<string, WireEnd[]>();
  wires.forEach((wire, index) => {
    const isReused = wire.supply === 'reuse';
    for (const side of SIDES) {
      const end = wire[side];
      count('labels', 1);
      if (end.seal && !(isReused && end.seal.supply === 'reuse')) count('seals', 1);
      const own = JSON.stringify([index, side]);
      const shared = end.sharesTerminal === undefined ? own : sharedKey(end);
      const joined = joinOf(end) === 'joint' ? JSON.stringify([end.point]) : shared;
      addTo(joins, joined, { end, isReused });
      addTo(covered, shared, { end, isReused });
    }
  });
  for (const ends of joins.values()) countJoin(ends, count);
  for (const ends of covered.values()) countCovers(ends, parts, count);
}

/** The terminal that these ends share, or the joint in which they meet. */
function countJoin(ends: readonly WireEnd[], count: Count): void {
  if (isKept(ends)) return;
  const [first] = ends;
  if (!first) return;
  const join = joinOf(first.end);
  const terminal = terminalOf(ends);
  // A reused wire is bare where it was, until its old terminal is cut off for a new one.
  const isCutOff = terminal !== undefined && terminal.supply !== 'reuse';
  count('stripping', ends.filter(({ end, isReused }) => end.stripMm !== 0 && (!isReused || isCutOff)).length);
  if (join === 'crimp') count('crimping', 1);
  if (join === 'solder') count('soldering', 1);
  if (join === 'joint') count('joints', 1);
  if (ends.some(({ end }) => end.terminateInVehicle)) count('inVehicle', 1);
}

/** Whether all of it came off the old loom as it is. */
function isKept(ends: readonly WireEnd[]): boolean {
  const terminal = terminalOf(ends);
  return ends.every(
    ({ end, isReused }) => isReused && (terminal ? terminal.supply === 'reuse' : joinOf(end) !== 'solder'),
  );
}

const terminalOf = (ends: readonly WireEnd[]) => ends.find(({ end }) => end.terminal)?.end.terminal;

/** A cover that is stated at one of the ends or at all is one cover. Heat-shrink for a cover is shrunk. */
function countCovers(ends: readonly WireEnd[], parts: ReadonlyMap<string, Part>, count: Count): void {
  const codes = new Set<string>();
  for (const { end } of ends)
    if (end.cover && !(isKept(ends) && end.cover.supply === 'reuse')) codes.add(end.cover.part);
  for (const code of codes) {
    const part = parts.get(code);
    count(part?.kind === 'sleeve' && part.sleeveType === 'heatShrink' ? 'heatShrink' : 'covers', 1);
  }
}
