import type { Cutting } from './cutting.ts';
import { itemsFor } from './fillings.ts';
import { bestFilling } from './knapsack.ts';
import { isEmpty, timesNeeded, without, type Packed, type Rest } from './packing.ts';

/**
 * Length after length filled as full as can be, each with the longest piece that is left, late orders first; shortest
 * lengths first, or longest. Undefined where neither packs all.
 */
export function tightPacking(cutting: Cutting, rest: Rest): Packed[] | undefined {
  return fill(cutting, rest, 1) ?? fill(cutting, rest, -1);
}

function fill(cutting: Cutting, start: Rest, shortestFirst: 1 | -1): Packed[] | undefined {
  const order = cutting.stocks
    .map(({ size, wave }, stock) => ({ stock, size, wave }))
    .sort((a, b) => b.wave - a.wave || shortestFirst * (a.size - b.size));
  const sizes = cutting.pieces.map(({ size }) => size);
  const packed: Packed[] = [];
  let rest = start;
  for (const { stock, size, wave } of order)
    while ((rest.lengths[stock] ?? 0) > 0 && !isEmpty(rest)) {
      const items = itemsFor(cutting, wave, rest.counts, sizes);
      const longest = items.findIndex((item) => item.count > 0 && item.size <= size);
      if (longest < 0) break;
      const first = items[longest]?.size ?? 0;
      const { counts } = bestFilling(
        items.map((item, at) => (at === longest ? { ...item, count: item.count - 1 } : item)),
        size - first,
      );
      counts[longest] = (counts[longest] ?? 0) + 1;
      const times = Math.max(1, timesNeeded({ stock, counts }, rest));
      packed.push({ fill: { stock, counts }, times });
      rest = without(rest, { fill: { stock, counts }, times });
    }
  return isEmpty(rest) ? packed : undefined;
}
