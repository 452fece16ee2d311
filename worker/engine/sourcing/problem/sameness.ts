import type { Pieces } from '../../cutting/patterns.ts';

/** Pieces of one length that one order brings to be cut are alike. */
function isAlike(a: Pick<Pieces, 'mm' | 'wave'>, b: Pick<Pieces, 'mm' | 'wave'>): boolean {
  return a.mm === b.mm && a.wave === b.wave;
}

/** How many pieces alike there are in a list. */
export function countOf(pieces: readonly Pieces[], alike: Pick<Pieces, 'mm' | 'wave'>): number {
  return pieces.find((piece) => isAlike(piece, alike))?.count ?? 0;
}
