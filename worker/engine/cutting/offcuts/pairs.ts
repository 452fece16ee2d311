import type { Effort } from './fill.ts';
import type { Cutting, Opened } from './lengths.ts';
import { compareRanks, rankOf } from './rank.ts';
import { searched } from './search.ts';

/** Two opened lengths at a time are cut anew, together with nothing else, until no two come to longer offcuts. */
export function inPairs(cutting: Cutting, keepMm: number, effort: Effort): Cutting {
  let opened = [...cutting.opened];
  for (let found = true; found && effort.left > 0;) {
    found = false;
    opened.sort((a, b) => b.leftMm - a.leftMm || a.length - b.length);
    for (let first = 0; first < opened.length && !found && effort.left > 0; first++)
      for (let second = first + 1; second < opened.length && effort.left > 0; second++) {
        const [a, b] = [opened[first], opened[second]];
        if (!a || !b) continue;
        const better = pairOf(cutting, [a, b], keepMm, effort);
        if (!better) continue;
        opened = [...opened.filter((one) => one !== a && one !== b), ...better];
        found = true;
        break;
      }
  }
  return { ...cutting, opened };
}

/** Steps that a pair takes at the most, and at the least. */
const PAIR = 5_000;
const PAIR_LEAST = 20;

function pairOf(
  { lengths, kinds }: Cutting,
  pair: readonly Opened[],
  keepMm: number,
  effort: Effort,
): readonly Opened[] | undefined {
  const places = kinds.flatMap((_, at) => (pair.some(({ counts }) => (counts[at] ?? 0) > 0) ? [at] : []));
  // Only the lengths of the two: a shelf may hold many others.
  const inUse = [...new Set(pair.map(({ length }) => length))].sort((a, b) => a - b);
  const of = {
    lengths: inUse.flatMap((at) => {
      const length = lengths[at];
      return length ? [{ ...length, count: pair.filter((one) => one.length === at).length }] : [];
    }),
    kinds: places.flatMap((at) => {
      const kind = kinds[at];
      return kind ? [{ ...kind, count: pair.reduce((sum, { counts }) => sum + (counts[at] ?? 0), 0) }] : [];
    }),
    opened: pair.map((one) => ({
      ...one,
      length: inUse.indexOf(one.length),
      counts: places.map((at) => one.counts[at] ?? 0),
    })),
  };
  const own = { left: PAIR };
  const { cutting } = searched(of, keepMm, own);
  effort.left -= Math.max(PAIR_LEAST, PAIR - own.left);
  const before = rankOf(of.lengths, of.opened, keepMm);
  if (compareRanks(rankOf(of.lengths, cutting.opened, keepMm), before) >= 0) return undefined;
  return cutting.opened.map((one) => {
    const counts = kinds.map(() => 0);
    places.forEach((at, place) => (counts[at] = one.counts[place] ?? 0));
    return { ...one, length: inUse[one.length] ?? 0, counts };
  });
}
