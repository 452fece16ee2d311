import type { Cutting } from './cutting.ts';
import { isWithin, mostWithin, type Item } from './fillTable.ts';
import type { Pattern } from './patterns.ts';
import { pricingOf, type Pricing } from './pricing.ts';

/** One bought length of a stock, filled. Counts are in the order of the cutting's pieces. */
export interface Fill {
  stock: number;
  counts: Pattern;
}

/** The pieces that may come of a stock of this wave, each worth so much; of the others there are none. */
export function itemsFor(
  cutting: Cutting,
  wave: number,
  counts: readonly number[],
  values: readonly number[],
): Item[] {
  return cutting.pieces.map((piece, at) => ({
    size: piece.size,
    count: piece.wave >= wave ? (counts[at] ?? 0) : 0,
    value: values[at] ?? 0,
  }));
}

/** Per wave among the stocks, what fillings are worth at these values. */
export class Worths {
  readonly #byWave = new Map<number, { items: Item[]; pricing: Pricing; fullness: Pricing | undefined }>();
  readonly #cutting: Cutting;

  constructor(cutting: Cutting, counts: readonly number[], values: readonly number[]) {
    this.#cutting = cutting;
    for (const { wave } of cutting.stocks) {
      if (this.#byWave.has(wave)) continue;
      const items = itemsFor(cutting, wave, counts, values);
      this.#byWave.set(wave, { items, pricing: pricingOf(items, cutting), fullness: undefined });
    }
  }

  #of(stock: number) {
    const { size = 0, wave = 0 } = this.#cutting.stocks[stock] ?? {};
    const own = this.#byWave.get(wave);
    if (!own) throw new Error(`no stock ${stock}`);
    return { own, ...own, size };
  }

  /** The most value that one length of a stock holds. */
  worth(stock: number): number {
    const { pricing, size } = this.#of(stock);
    return pricing.worth(size);
  }

  /** A filling of a stock that is worth the most, and others that are worth much. */
  best(stock: number): number[][] {
    const { pricing, size } = this.#of(stock);
    return pricing.fillings(size);
  }

  /**
   * The same among fillings that are within none of those shut out; undefined where none is worth anything. Where these
   * are past finding, `worth` is what any filling is worth at most.
   */
  bestBeside(stock: number, shutOut: readonly Fill[]): { counts: number[]; worth: number } | undefined {
    const { items, pricing, size } = this.#of(stock);
    let best: { counts: number[]; worth: number } | undefined;
    const taken = items.map(() => 0);
    let visits = 0;
    const fill = (place: number, left: number, worth: number): boolean => {
      if (worth + pricing.within(left, place) <= (best?.worth ?? 0)) return true;
      if (++visits > MOST_VISITS) return false;
      const at = pricing.order[place];
      const item = items[at ?? -1];
      if (at === undefined || !item) {
        if (!isShut({ stock, counts: taken }, shutOut)) best = { counts: [...taken], worth };
        return true;
      }
      for (let count = mostWithin(item.size, item.count, left); count >= 0; count--) {
        taken[at] = count;
        if (!fill(place + 1, left - count * item.size, worth + count * item.value)) return false;
      }
      taken[at] = 0;
      return true;
    };
    if (fill(0, size, 0)) return best;
    return { counts: best?.counts ?? items.map(() => 0), worth: pricing.worth(size) };
  }

  /**
   * Every filling of a stock that no piece can be added to and that is worth at least so much and fills at least so much;
   * undefined where there are more than `most`, or they are past finding.
   */
  allWorth(stock: number, least: { worth: number; size: number }, most: number): Fill[] | undefined {
    const { own, items, pricing, size } = this.#of(stock);
    const fullness = (own.fullness ??= pricingOf(
      items.map((item) => ({ ...item, value: item.size })),
      this.#cutting,
      pricing,
    ));
    const found: Fill[] = [];
    const taken = items.map(() => 0);
    let visits = 0;
    const fill = (place: number, left: number, worth: number): boolean => {
      if (worth + pricing.within(left, place) < least.worth) return true;
      if (size - left + fullness.within(left, place) < least.size) return true;
      if (++visits > most * VISITS) return false;
      const at = pricing.order[place];
      const item = items[at ?? -1];
      if (at === undefined || !item) {
        const room = items.some((each, index) => each.size <= left && (taken[index] ?? 0) < each.count);
        if (!room) found.push({ stock, counts: [...taken] });
        return found.length <= most;
      }
      for (let count = mostWithin(item.size, item.count, left); count >= 0; count--) {
        taken[at] = count;
        if (!fill(place + 1, left - count * item.size, worth + count * item.value)) return false;
      }
      taken[at] = 0;
      return true;
    };
    return fill(0, size, 0) ? found : undefined;
  }
}

/** So many fillings are looked at for the best that is not shut out. */
const MOST_VISITS = 200_000;

/** Whether a filling is within one, of the same stock, that is shut out. */
export function isShut({ stock, counts }: Fill, shutOut: readonly Fill[]): boolean {
  return shutOut.some((other) => other.stock === stock && isWithin(counts, other.counts));
}

/** A search that looks at so many times more fillings than it may find is given up as too large. */
const VISITS = 60;
