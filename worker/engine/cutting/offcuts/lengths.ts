import type { Pieces } from '../patterns.ts';

/** Lengths at hand that are alike, bought or off the buyer's own shelf (`own`), with the order that they come with. */
export interface Length {
  usableMm: number;
  count: number;
  wave: number;
  own: boolean;
}

/** So many lengths of a kind (its place in the list of lengths) that are cut alike. */
export interface Filled {
  length: number;
  times: number;
  pieces: readonly Pieces[];
}

/** A piece's length and order, and how many of it are cut. */
export interface Kind {
  mm: number;
  wave: number;
  count: number;
}

/** One opened length of a kind, with how many pieces of each kind come out of it. */
export interface Opened {
  length: number;
  counts: readonly number[];
  leftMm: number;
}

/** A cutting in single lengths. */
export interface Cutting {
  lengths: readonly Length[];
  /** Longest first. */
  kinds: readonly Kind[];
  opened: readonly Opened[];
}

/** A cutting as it was given. */
export function cuttingIn(lengths: readonly Length[], filled: readonly Filled[]): Cutting {
  const counts = new Map<string, Kind>();
  for (const { times, pieces } of filled)
    for (const { mm, count, wave = 0 } of pieces) {
      const before = counts.get(keyOf({ mm, wave }))?.count ?? 0;
      counts.set(keyOf({ mm, wave }), { mm, wave, count: before + times * count });
    }
  const kinds = [...counts.values()].sort((a, b) => b.mm - a.mm || a.wave - b.wave);
  const places = new Map(kinds.map((kind, at) => [keyOf(kind), at]));
  const opened = filled.flatMap(({ length, times, pieces }): Opened[] => {
    const own = kinds.map(() => 0);
    for (const { mm, count, wave = 0 } of pieces) {
      const at = places.get(keyOf({ mm, wave })) ?? -1;
      own[at] = (own[at] ?? 0) + count;
    }
    if (own.every((count) => count === 0)) return [];
    const leftMm = (lengths[length]?.usableMm ?? 0) - totalOf(kinds, own);
    return Array.from({ length: times }, () => ({ length, counts: own, leftMm }));
  });
  return { lengths, kinds, opened };
}

/** A cutting with lengths that are cut alike in one entry: kind by kind, of each the longest offcut last. */
export function filledIn({ kinds, opened }: Pick<Cutting, 'kinds' | 'opened'>): Filled[] {
  const alike = new Map<string, Filled>();
  const sorted = [...opened].sort((a, b) => a.length - b.length || a.leftMm - b.leftMm);
  for (const { length, counts } of sorted) {
    const key = `${length}:${counts.join()}`;
    const before = alike.get(key);
    const pieces = kinds.flatMap(({ mm, wave }, at): Pieces[] => {
      const count = counts[at] ?? 0;
      return count > 0 ? [{ mm, count, wave }] : [];
    });
    alike.set(key, { length, times: (before?.times ?? 0) + 1, pieces });
  }
  return [...alike.values()];
}

/** Millimetres of so many pieces. */
export function totalOf(kinds: readonly Kind[], counts: readonly number[]): number {
  return kinds.reduce((sum, { mm }, at) => sum + mm * (counts[at] ?? 0), 0);
}

const keyOf = ({ mm, wave }: Pick<Kind, 'mm' | 'wave'>) => `${mm} ${wave}`;
