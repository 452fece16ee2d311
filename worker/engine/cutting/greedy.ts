import type { Cutting } from './cutting.ts';
import { mostWithin } from './fillTable.ts';
import type { Packed, Rest } from './packing.ts';

interface Open {
  stock: number;
  size: number;
  wave: number;
  left: number;
  counts: number[] | undefined;
}

/** With more pieces times lengths than this, the tightest length is not looked for, only the first. */
const MOST_FITS = 2_000_000;

/**
 * Each piece, longest first, into the first or the tightest length that still holds it, by several orders of lengths and
 * pieces; lengths of a late order first, since early pieces cannot come of them. Undefined where none of it packs all.
 */
export function greedyPacking(cutting: Cutting, rest: Rest): Packed[] | undefined {
  const order = cutting.pieces.map((_, at) => at);
  const orders = [order];
  if (new Set(cutting.pieces.map(({ wave }) => wave)).size > 1)
    orders.push(
      [...order].sort((a, b) => (cutting.pieces[a]?.wave ?? 0) - (cutting.pieces[b]?.wave ?? 0) || a - b),
    );
  const fits =
    rest.counts.reduce((sum, count) => sum + count, 0) * rest.lengths.reduce((sum, many) => sum + many, 0);
  const ways: ((pieces: number[]) => Packed[] | undefined)[] = [
    ...(fits <= MOST_FITS ? [(pieces: number[]) => fit(cutting, rest, pieces, 1, true)] : []),
    (pieces) => fit(cutting, rest, pieces, 1, false),
    (pieces) => fit(cutting, rest, pieces, -1, false),
  ];
  for (const way of ways)
    for (const pieces of orders) {
      const packed = way(pieces);
      if (packed) return packed;
    }
  return undefined;
}

function fit(
  cutting: Cutting,
  rest: Rest,
  pieces: readonly number[],
  shortestFirst: 1 | -1,
  tightest: boolean,
): Packed[] | undefined {
  const open = cutting.stocks
    .flatMap(({ size, wave }, stock) =>
      Array.from({ length: rest.lengths[stock] ?? 0 }, (): Open => ({
        stock,
        size,
        wave,
        left: size,
        counts: undefined,
      })),
    )
    .sort((a, b) => b.wave - a.wave || shortestFirst * (a.size - b.size) || a.stock - b.stock);
  for (const at of pieces) {
    const piece = cutting.pieces[at];
    let left = rest.counts[at] ?? 0;
    if (!piece || left === 0) continue;
    const put = (length: Open, count: number) => {
      length.counts ??= cutting.pieces.map(() => 0);
      length.counts[at] = (length.counts[at] ?? 0) + count;
      length.left -= count * piece.size;
      left -= count;
    };
    const holds = (length: Open) => length.wave <= piece.wave && length.left >= piece.size;
    if (tightest)
      while (left > 0) {
        let best: Open | undefined;
        for (const length of open) if (holds(length) && (!best || length.left < best.left)) best = length;
        if (!best) return undefined;
        put(best, 1);
      }
    else
      for (const length of open) {
        if (left === 0) break;
        if (holds(length)) put(length, mostWithin(piece.size, left, length.left));
      }
    if (left > 0) return undefined;
  }
  return open.flatMap(({ stock, counts }) => (counts ? [{ fill: { stock, counts }, times: 1 }] : []));
}
