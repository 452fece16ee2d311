import { lotsOf, mostWithin, type Item } from './fillTable.ts';
import { bestFilling } from './knapsack.ts';

/** Larger tables take longer than a search for the best filling of each size does. */
const MOST_ENTRIES = 250_000;

/**
 * The most that items are worth within each of some sizes. Where their worth is whole and small it is worked out from the
 * least size of each worth, else from the most worth of each size; where both are many, by a search, which may say more
 * than it is by a share `slack`.
 */
export function mostWorth(
  items: readonly Item[],
  sizes: readonly number[],
  { mostEntries = MOST_ENTRIES, slack = 0 }: { mostEntries?: number; slack?: number } = {},
): number[] {
  const longest = Math.max(0, ...sizes);
  const useful = items.filter(({ size, count, value }) => value > 0 && mostWithin(size, count, longest) > 0);
  const most = mostValue(useful, longest);
  const isWhole = useful.every(({ value }) => Number.isInteger(value));
  if (Math.min(isWhole ? most : Infinity, longest) * useful.length > mostEntries) {
    const found = new Map([...new Set(sizes)].map((size) => [size, bestFilling(useful, size, slack).most]));
    return sizes.map((size) => found.get(size) ?? 0);
  }
  return isWhole && most < longest ? byWorth(useful, sizes, longest, most) : bySize(useful, sizes, longest);
}

/** No less than what any filling of a length is worth. */
function mostValue(items: readonly Item[], length: number): number {
  const all = items.reduce((sum, { size, count, value }) => sum + mostWithin(size, count, length) * value, 0);
  const dearest = items.reduce((most, { size, value }) => Math.max(most, value / size), 0);
  return Math.min(all, Math.ceil(dearest * length) + 1);
}

function bySize(items: readonly Item[], sizes: readonly number[], longest: number): number[] {
  const best = new Float64Array(longest + 1);
  for (const item of items)
    for (const { size, value } of lotsOf(item, longest))
      for (let c = longest; c >= size; c--) {
        const taken = best[c - size]! + value;
        if (taken > best[c]!) best[c] = taken;
      }
  return sizes.map((size) => best[size]!);
}

function byWorth(items: readonly Item[], sizes: readonly number[], longest: number, most: number): number[] {
  const least = new Float64Array(most + 1).fill(Infinity);
  least[0] = 0;
  for (const item of items)
    for (const { size, value } of lotsOf(item, longest))
      for (let worth = most; worth >= value; worth--) {
        const taken = least[worth - value]! + size;
        if (taken < least[worth]!) least[worth] = taken;
      }
  return sizes.map((size) => least.findLastIndex((taken) => taken <= size));
}
