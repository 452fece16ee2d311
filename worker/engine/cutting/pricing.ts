import { FillTable, mostWithin, type Item } from './fillTable.ts';
import { bestFilling, type Filling } from './knapsack.ts';
import { FILLING_BESIDE, ROUNDED_SUM } from '../solver/tolerances.ts';

/** What fillings of lengths of any size are worth. */
export interface Pricing {
  /** The places of the items, in the order in which `within` takes them. */
  readonly order: readonly number[];
  /** No less than what the items from this place of the order on give within a size. */
  within(size: number, from: number): number;
  /** The most that a length of a size holds. */
  worth(size: number): number;
  /** A filling that holds it, and others that are worth much. */
  fillings(size: number): number[][];
}

/** By a table over sizes where it is small, else by a search. `like`: in the same order as this one. */
export function pricingOf(
  items: readonly Item[],
  { size, mostEntries }: { size: number; mostEntries: number },
  like?: Pricing,
): Pricing {
  return (items.length + 1) * (size + 1) <= mostEntries
    ? new ByTable(items, size)
    : new BySearch(items, like?.order);
}

class ByTable implements Pricing {
  readonly order: readonly number[];
  readonly #items: readonly Item[];
  readonly #table: FillTable;

  constructor(items: readonly Item[], size: number) {
    this.#items = items;
    this.order = items.map((_, at) => at);
    this.#table = new FillTable(items, size);
  }

  within(size: number, from: number): number {
    return this.#table.worth(size, from);
  }

  worth(size: number): number {
    return this.#table.worth(size);
  }

  /** Beside the best, for each item, the best that begins with it. */
  fillings(size: number): number[][] {
    const first = this.#items.flatMap((item, at) =>
      mostWithin(item.size, item.count, size) > 0 ? [at] : [],
    );
    return [this.#table.filling(size), ...first.map((at) => this.#table.filling(size, at))];
  }
}

/** Beside the best filling so many are found. */
const MOST_BESIDE = 4;

/** Never below the exact sum, which the floating-point one may be by its last digits. */
const ABOVE = 1 + ROUNDED_SUM;

class BySearch implements Pricing {
  readonly order: readonly number[];
  readonly #items: readonly Item[];
  /** Best fillings that were found, by size. */
  readonly #best = new Map<number, Filling>();

  constructor(items: readonly Item[], order?: readonly number[]) {
    this.#items = items;
    const density = ({ size, value }: Item) => (size === 0 ? Infinity : value / size);
    this.order =
      order ??
      items
        .map((item, at) => ({ at, density: density(item) }))
        .sort((a, b) => b.density - a.density || a.at - b.at)
        .map(({ at }) => at);
  }

  /** The items go in as they come, the last of them in part: they lie by what a size is worth, or all sizes are worth alike. */
  within(size: number, from: number): number {
    let [left, worth] = [size, 0];
    for (let place = from; place < this.order.length; place++) {
      const item = this.#items[this.order[place] ?? -1];
      if (!item || item.value <= 0) continue;
      const whole = mostWithin(item.size, item.count, left);
      worth += whole * item.value;
      left -= whole * item.size;
      if (whole < item.count) return (worth + (item.value * left) / item.size) * ABOVE;
    }
    return worth * ABOVE;
  }

  worth(size: number): number {
    return this.#found(size).worth;
  }

  /** Beside the best, the best of what it leaves of the items, and so on. */
  fillings(size: number): number[][] {
    const all = [this.#found(size).counts];
    let rest = this.#items;
    while (all.length <= MOST_BESIDE) {
      const last = all.at(-1) ?? [];
      rest = rest.map((item, at) => ({ ...item, count: item.count - (last[at] ?? 0) }));
      const { worth, counts } = bestFilling(rest, size, FILLING_BESIDE);
      if (worth <= 0) break;
      all.push(counts);
    }
    return all;
  }

  #found(size: number): Filling {
    const known = this.#best.get(size);
    if (known) return known;
    const found = bestFilling(this.#items, size);
    this.#best.set(size, found);
    return found;
  }
}
