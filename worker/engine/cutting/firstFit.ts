import type { Pieces } from './patterns.ts';

/** One bought length with the pieces that are cut from it. */
export interface Filled {
  pieces: Pieces[];
  leftMm: number;
}

/**
 * First fit, longest first: each piece goes into the first length that still holds it; a new one is begun where none
 * does. At most `most` lengths; what fits in none of them, or is longer than a length, is left over.
 */
export function firstFit(
  usableMm: number,
  pieces: readonly Pieces[],
  most = Infinity,
): { lengths: Filled[]; rest: Pieces[] } {
  const lengths: Filled[] = [];
  const rest: Pieces[] = [];
  for (const { mm, count } of pieces) {
    let left = count;
    // Pieces of one length fill length after length, so that no list of single pieces is walked.
    for (let at = 0; left > 0 && mm <= usableMm; at++) {
      if (at === lengths.length) {
        if (at >= most) break;
        lengths.push({ pieces: [], leftMm: usableMm });
      }
      const filled = lengths[at];
      if (!filled) break;
      const fits = Math.min(left, Math.floor(filled.leftMm / mm));
      if (fits === 0) continue;
      filled.pieces.push({ mm, count: fits });
      filled.leftMm -= fits * mm;
      left -= fits;
    }
    if (left > 0) rest.push({ mm, count: left });
  }
  return { lengths, rest };
}

/** Total of pieces, mm. */
export function totalMm(pieces: readonly Pieces[]): number {
  return pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
}
