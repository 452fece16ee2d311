/**
 * A length and how many pieces of it are needed. `wave`: the order, counted from 0 (which is meant where there is none),
 * by which they are to be cut. Lists of these stand longest first, each length once a wave.
 */
export interface Pieces {
  mm: number;
  count: number;
  wave?: number;
}

/** How many pieces of each length, in the order of the list of pieces, come out of one bought length. */
export type Pattern = readonly number[];

/** A search that looks at so many times more ways than it finds is given up as too large. */
const VISITS = 100;

/**
 * Every way to fill one bought length to which no further piece could be added, with no more pieces of a length than are
 * needed. Undefined where there are more than `most` of them.
 */
export function maximalPatterns(
  usableMm: number,
  pieces: readonly Pieces[],
  most: number,
): Pattern[] | undefined {
  const found: Pattern[] = [];
  const taken = pieces.map(() => 0);
  // What is not taken of a length though it would still fit: the pattern is maximal if it fits no more at the end.
  let visits = 0;
  const fill = (at: number, left: number): boolean => {
    if (++visits > most * VISITS) return false;
    const piece = pieces[at];
    if (!piece) {
      const room = pieces.some(({ mm, count }, index) => mm <= left && (taken[index] ?? 0) < count);
      if (room || taken.every((count) => count === 0)) return true;
      found.push([...taken]);
      return found.length <= most;
    }
    // The smallest length takes all that it can: less would not be maximal.
    const fits = Math.min(piece.count, Math.floor(left / piece.mm));
    const least = at === pieces.length - 1 ? fits : 0;
    for (let count = fits; count >= least; count--) {
      taken[at] = count;
      if (!fill(at + 1, left - count * piece.mm)) return false;
    }
    taken[at] = 0;
    return true;
  };
  return fill(0, usableMm) ? found : undefined;
}
