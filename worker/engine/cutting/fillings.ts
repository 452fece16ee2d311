import type { Cutting } from './cutting.ts';
import { FillTable, isWithin, mostWithin, type Item } from './fillTable.ts';
import type { Pattern } from './patterns.ts';

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
export class Tables {
  readonly #byWave = new Map<number, { items: Item[]; table: FillTable }>();
  readonly #cutting: Cutting;

  constructor(cutting: Cutting, counts: readonly number[], values: readonly number[]) {
    this.#cutting = cutting;
    for (const { wave } of cutting.stocks) {
      if (this.#byWave.has(wave)) continue;
      const items = itemsFor(cutting, wave, counts, values);
      this.#byWave.set(wave, { items, table: new FillTable(items, cutting.size) });
    }
  }

  #of(stock: number) {
    const { size = 0, wave = 0 } = this.#cutting.stocks[stock] ?? {};
    const own = this.#byWave.get(wave);
    if (!own) throw new Error(`no stock ${stock}`);
    return { ...own, size };
  }

  /** The most value that one length of a stock holds. */
  worth(stock: number): number {
    const { table, size } = this.#of(stock);
    return table.worth(size);
  }

  /** A filling of a stock that is worth the most, and then, for each piece, the most that begin with it. */
  best(stock: number): number[][] {
    const { items, table, size } = this.#of(stock);
    const first = items.flatMap((item, at) => (mostWithin(item.size, item.count, size) > 0 ? [at] : []));
    return [table.filling(size), ...first.map((at) => table.filling(size, at))];
  }

  /** The same among fillings that are within none of those shut out; undefined where none is worth anything. */
  bestBeside(stock: number, shutOut: readonly Fill[]): { counts: number[]; worth: number } | undefined {
    const { items, table, size } = this.#of(stock);
    let best: { counts: number[]; worth: number } | undefined;
    const taken = items.map(() => 0);
    const fill = (at: number, left: number, worth: number): void => {
      if (worth + table.worth(left, at) <= (best?.worth ?? 0)) return;
      const item = items[at];
      if (!item) {
        if (!isShut({ stock, counts: taken }, shutOut)) best = { counts: [...taken], worth };
        return;
      }
      for (let count = mostWithin(item.size, item.count, left); count >= 0; count--) {
        taken[at] = count;
        fill(at + 1, left - count * item.size, worth + count * item.value);
      }
      taken[at] = 0;
    };
    fill(0, size, 0);
    return best;
  }

  /**
   * Every filling of a stock that no piece can be added to and that is worth at least so much and fills at least so much;
   * undefined where there are more than `most`. `fills`: what sizes the same pieces fill.
   */
  allWorth(
    stock: number,
    fills: Tables,
    least: { worth: number; size: number },
    most: number,
  ): Fill[] | undefined {
    const { items, table, size } = this.#of(stock);
    const { table: full } = fills.#of(stock);
    const found: Fill[] = [];
    const taken = items.map(() => 0);
    let visits = 0;
    const fill = (at: number, left: number, worth: number): boolean => {
      if (worth + table.worth(left, at) < least.worth) return true;
      if (size - left + full.worth(left, at) < least.size) return true;
      if (++visits > most * VISITS) return false;
      const item = items[at];
      if (!item) {
        const room = items.some((own, index) => own.size <= left && (taken[index] ?? 0) < own.count);
        if (!room) found.push({ stock, counts: [...taken] });
        return found.length <= most;
      }
      for (let count = mostWithin(item.size, item.count, left); count >= 0; count--) {
        taken[at] = count;
        if (!fill(at + 1, left - count * item.size, worth + count * item.value)) return false;
      }
      taken[at] = 0;
      return true;
    };
    return fill(0, size, 0) ? found : undefined;
  }
}

/** Whether a filling is within one, of the same stock, that is shut out. */
export function isShut({ stock, counts }: Fill, shutOut: readonly Fill[]): boolean {
  return shutOut.some((other) => other.stock === stock && isWithin(counts, other.counts));
}

/** A search that looks at so many times more fillings than it may find is given up as too large. */
const VISITS = 60;
