import type { Pattern } from './patterns.ts';

/** A piece as a table sees it. */
export interface Item {
  size: number;
  count: number;
  value: number;
}

/**
 * What the best filling of one length is worth: for every rest of the list of items and every size, the most value that
 * so many items of it give within that size. Whole values up to 2^53 in sum are added exactly.
 */
export class FillTable {
  readonly #items: readonly Item[];
  readonly #width: number;
  /** Row `at` holds the best of items[at] and all after it, by size. */
  readonly #best: Float64Array;

  constructor(items: readonly Item[], size: number) {
    this.#items = items;
    this.#width = size + 1;
    this.#best = new Float64Array((items.length + 1) * this.#width);
    for (let at = items.length - 1; at >= 0; at--) this.#addRow(at);
  }

  #addRow(at: number): void {
    const item = this.#items[at] ?? { size: 0, count: 0, value: 0 };
    const width = this.#width;
    const row = this.#best.subarray(at * width, (at + 1) * width);
    const after = this.#best.subarray((at + 1) * width, (at + 2) * width);
    const lots = item.value > 0 ? lotsOf(item, width - 1) : [];
    const [first, ...others] = lots;
    if (!first) {
      row.set(after);
      return;
    }
    take(first.size, first.value, after, row);
    if (item.size > 0 && mostWithin(item.size, item.count, width - 1) === Math.floor((width - 1) / item.size))
      takeAgain(item.size, item.value, row);
    else for (const { size, value } of others) take(size, value, row, row);
  }

  /** The most value within a size, of the items from `at` on. */
  worth(size: number, at = 0): number {
    return this.#best[at * this.#width + size] ?? 0;
  }

  /** A filling of that worth, or, `from` an item, of the most worth that holds it and none before it. */
  filling(size: number, from?: number): number[] {
    let left = size;
    return this.#items.map(({ size: own, count, value }, at) => {
      const least = at === from ? 1 : 0;
      if ((value <= 0 && least === 0) || at < (from ?? 0)) return 0;
      let chosen = least;
      let best = -Infinity;
      for (let number = mostWithin(own, count, left); number >= least; number--) {
        const worth = this.worth(left - number * own, at + 1) + number * value;
        if (worth > best) [chosen, best] = [number, worth];
      }
      left -= chosen * own;
      return chosen;
    });
  }
}

/** What one lot more or none is worth at each size; in place too, as larger sizes come first. */
function take(size: number, value: number, before: Float64Array, row: Float64Array): void {
  for (let c = row.length - 1; c >= size; c--) {
    const taken = before[c - size]! + value;
    const left = before[c]!;
    row[c] = taken > left ? taken : left;
  }
  if (before !== row) row.set(before.subarray(0, size));
}

/** What any number more is worth at each size. */
function takeAgain(size: number, value: number, row: Float64Array): void {
  for (let c = size; c < row.length; c++) {
    const taken = row[c - size]! + value;
    if (taken > row[c]!) row[c] = taken;
  }
}

/** How many of an item go into a size. */
export function mostWithin(size: number, count: number, within: number): number {
  return size === 0 ? count : Math.min(count, Math.floor(within / size));
}

/** An item in lots of 1, 2, 4, … and the rest: any number of it that goes into a size is a sum of some of them. */
export function lotsOf({ size, count, value }: Item, within: number): { size: number; value: number }[] {
  const lots: { size: number; value: number }[] = [];
  for (let left = mostWithin(size, count, within), lot = 1; left > 0; left -= lot, lot *= 2) {
    lot = Math.min(lot, left);
    lots.push({ size: lot * size, value: lot * value });
  }
  return lots;
}

/** Whether nothing is in a filling that is not in another. */
export function isWithin(filling: Pattern, other: Pattern): boolean {
  return filling.every((count, at) => count <= (other[at] ?? 0));
}
