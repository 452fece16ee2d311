/** Lengths on the shelf that are alike. */
export interface ShelfLengths {
  code: string;
  lengthMm: number;
  count: number;
}

/** Pieces that come out of one length. */
export interface LengthCut {
  code: string;
  piecesMm: number[];
}

/**
 * Out of which lengths pieces are cut. `bundles`: the pieces that the plan cuts out of one length each. Each comes out of the
 * shortest length that holds it; where there is none for some (a supplier sent several shorter lengths instead of one), all
 * pieces are placed anew, the longest first, each where the least is left. Undefined: they do not fit. All in mm.
 */
export function placeCuts(
  bundles: readonly (readonly number[])[],
  shelf: readonly ShelfLengths[],
): LengthCut[] | undefined {
  return together(bundles, shelf) ?? onePieceAtATime(bundles.flat(), shelf);
}

const sum = (pieces: readonly number[]) => pieces.reduce((all, piece) => all + piece, 0);

/** The lengths one by one, the shortest first. */
function spread(shelf: readonly ShelfLengths[]): { code: string; lengthMm: number }[] {
  return shelf
    .flatMap(({ code, lengthMm, count }) => Array.from({ length: count }, () => ({ code, lengthMm })))
    .sort((a, b) => a.lengthMm - b.lengthMm || (a.code < b.code ? -1 : 1));
}

function together(
  bundles: readonly (readonly number[])[],
  shelf: readonly ShelfLengths[],
): LengthCut[] | undefined {
  const free = spread(shelf);
  const cuts: LengthCut[] = [];
  for (const pieces of [...bundles].sort((a, b) => sum(a) - sum(b))) {
    const at = free.findIndex(({ lengthMm }) => lengthMm >= sum(pieces));
    const [length] = at < 0 ? [] : free.splice(at, 1);
    if (!length) return undefined;
    cuts.push({ code: length.code, piecesMm: [...pieces] });
  }
  return cuts;
}

function onePieceAtATime(pieces: readonly number[], shelf: readonly ShelfLengths[]): LengthCut[] | undefined {
  const free = spread(shelf);
  const opened: (LengthCut & { leftMm: number })[] = [];
  for (const piece of [...pieces].sort((a, b) => b - a)) {
    const [tightest] = opened.filter(({ leftMm }) => leftMm >= piece).sort((a, b) => a.leftMm - b.leftMm);
    if (tightest) {
      tightest.piecesMm.push(piece);
      tightest.leftMm -= piece;
      continue;
    }
    const at = free.findIndex(({ lengthMm }) => lengthMm >= piece);
    const [length] = at < 0 ? [] : free.splice(at, 1);
    if (!length) return undefined;
    opened.push({ code: length.code, piecesMm: [piece], leftMm: length.lengthMm - piece });
  }
  return opened.map(({ code, piecesMm }) => ({ code, piecesMm }));
}
