import type { Kind, Length } from './lengths.ts';
import { compareOpenings, openingOf, type Rank } from './rank.ts';

/** Which lengths are opened: a kind for each, in the order of the list. */
export interface Opening {
  opened: readonly number[];
  rank: Omit<Rank, 'offcuts'>;
}

/**
 * The sets of lengths that have room for all pieces, order by order, and rank no lower than one that is known to do, the
 * best first; undefined where there are more than `most`.
 */
export function openingsUpTo(
  lengths: readonly Length[],
  kinds: readonly Kind[],
  known: Omit<Rank, 'offcuts'>,
  most: number,
): Opening[] | undefined {
  const waves = [...new Set(kinds.map(({ wave }) => wave))];
  const needs = waves.map((wave) => ({
    wave,
    mm: kinds.reduce((sum, kind) => (kind.wave <= wave ? sum + kind.mm * kind.count : sum), 0),
  }));
  const has = (opened: readonly number[], from: number, wave: number, left: number) => {
    const mmOf = (at: number) => ((lengths[at]?.wave ?? 0) <= wave ? (lengths[at]?.usableMm ?? 0) : 0);
    let sum = opened.reduce((total, at) => total + mmOf(at), 0);
    // The most that the kinds still to come could add.
    const more = lengths.map((_, at) => at).filter((at) => at >= from);
    for (const at of more.sort((a, b) => mmOf(b) - mmOf(a))) {
      const count = Math.min(left, lengths[at]?.count ?? 0);
      sum += count * mmOf(at);
      left -= count;
    }
    return sum;
  };
  const found: Opening[] = [];
  let visits = 0;
  const add = (at: number, opened: readonly number[]): boolean => {
    if (++visits > most * VISITS) return false;
    const left = known.opened - opened.length;
    if (needs.some(({ wave, mm }) => has(opened, at, wave, left) < mm)) return true;
    const length = lengths[at];
    if (!length) {
      const rank = openingOf(lengths, opened);
      if (compareOpenings(rank, known) <= 0) found.push({ opened, rank });
      return found.length <= most;
    }
    for (let count = Math.min(left, length.count); count >= 0; count--)
      if (!add(at + 1, [...opened, ...Array<number>(count).fill(at)])) return false;
    return true;
  };
  return add(0, []) ? found.sort((a, b) => compareOpenings(a.rank, b.rank)) : undefined;
}

/** A search that looks at so many times more sets than it may find is given up as too large. */
const VISITS = 20;
