import type { Length, Opened } from './lengths.ts';

/** What a cutting is judged by, in this order. */
export interface Rank {
  /** Lengths that are opened, and how many of them are bought and not off the shelf: the fewer the better. */
  opened: number;
  bought: number;
  /** What the opened lengths have in all: the less, the more stays whole. */
  mm: number;
  /** Offcuts worth keeping, the longest first: the longer the better. */
  offcuts: readonly number[];
}

/** The rank of a cutting where offcuts of so many mm or more are worth keeping. */
export function rankOf(lengths: readonly Length[], opened: readonly Opened[], keepMm: number): Rank {
  return {
    ...openingOf(
      lengths,
      opened.map(({ length }) => length),
    ),
    offcuts: keptOf(
      opened.map(({ leftMm }) => leftMm),
      keepMm,
    ),
  };
}

/** What a rank says before anything is cut: of the kinds of the lengths that are opened. */
export function openingOf(lengths: readonly Length[], opened: readonly number[]): Omit<Rank, 'offcuts'> {
  return {
    opened: opened.length,
    bought: opened.filter((at) => lengths[at]?.own !== true).length,
    mm: opened.reduce((sum, at) => sum + (lengths[at]?.usableMm ?? 0), 0),
  };
}

/** Offcuts worth keeping, the longest first. */
export function keptOf(offcuts: readonly number[], keepMm: number): number[] {
  return offcuts.filter((mm) => mm > 0 && mm >= keepMm).sort((a, b) => b - a);
}

/** Less than 0: the first opens less; 0: as much. */
export function compareOpenings(a: Omit<Rank, 'offcuts'>, b: Omit<Rank, 'offcuts'>): number {
  return a.opened - b.opened || a.bought - b.bought || a.mm - b.mm;
}

/** Less than 0: the first has the longer offcuts. */
export function compareOffcuts(a: readonly number[], b: readonly number[]): number {
  for (let at = 0; at < Math.max(a.length, b.length); at++) {
    const more = (b[at] ?? 0) - (a[at] ?? 0);
    if (more !== 0) return more;
  }
  return 0;
}

/** Less than 0: the first is better. */
export function compareRanks(a: Rank, b: Rank): number {
  return compareOpenings(a, b) || compareOffcuts(a.offcuts, b.offcuts);
}
