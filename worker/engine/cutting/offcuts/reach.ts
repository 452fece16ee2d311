import { gcd } from '../../units/gcd.ts';
import type { Kind } from './lengths.ts';

/** Which sums of pieces there are, for lengths of each order: in steps of the pieces' common measure. */
export class Reach {
  readonly stepMm: number;
  readonly #kinds: readonly Kind[];
  readonly #width: number;
  readonly #byWave = new Map<number, Uint8Array>();

  /** `longestMm`: of the lengths. Undefined where the tables would be larger than `mostEntries`. */
  static of(
    kinds: readonly Kind[],
    waves: readonly number[],
    longestMm: number,
    mostEntries: number,
  ): Reach | undefined {
    const reach = new Reach(kinds, longestMm);
    const distinct = new Set(waves);
    if ((kinds.length + 1) * reach.#width * distinct.size > mostEntries) return undefined;
    for (const wave of distinct) reach.#byWave.set(wave, reach.#tableFor(wave));
    return reach;
  }

  private constructor(kinds: readonly Kind[], longestMm: number) {
    this.#kinds = kinds;
    this.stepMm = kinds.reduce((step, { mm }) => gcd(step, mm), 0) || 1;
    const total = kinds.reduce((sum, { mm, count }) => sum + mm * count, 0);
    this.#width = Math.floor(Math.min(longestMm, total) / this.stepMm) + 1;
  }

  get entries(): number {
    return (this.#kinds.length + 1) * this.#width * this.#byWave.size;
  }

  /** Row `at` has a 1 at each sum that pieces of the kinds from `at` on come to. */
  #tableFor(wave: number): Uint8Array {
    const width = this.#width;
    const table = new Uint8Array((this.#kinds.length + 1) * width);
    table[this.#kinds.length * width] = 1;
    const used = new Int32Array(width);
    for (let at = this.#kinds.length - 1; at >= 0; at--) {
      const kind = this.#kinds[at] ?? { mm: 0, wave: 0, count: 0 };
      const row = table.subarray(at * width, (at + 1) * width);
      row.set(table.subarray((at + 1) * width, (at + 2) * width));
      if (kind.wave < wave) continue;
      const size = kind.mm / this.stepMm;
      used.fill(0);
      for (let sum = size; sum < width; sum++) {
        const before = used[sum - size] ?? 0;
        if (row[sum] || !row[sum - size] || before >= kind.count) continue;
        row[sum] = 1;
        used[sum] = before + 1;
      }
    }
    return table;
  }

  /** The sums in lengths of an order. */
  in(wave: number): Sums {
    return new Sums(this.#byWave.get(wave) ?? new Uint8Array(), this.#width);
  }
}

/** Sums of pieces, in steps, in lengths of one order. */
export class Sums {
  readonly #table: Uint8Array;
  readonly #width: number;

  constructor(table: Uint8Array, width: number) {
    this.#table = table;
    this.#width = width;
  }

  /** Whether the kinds from `at` on come to a sum. */
  has(at: number, sum: number): boolean {
    return sum < this.#width && this.#table[at * this.#width + sum] === 1;
  }

  /** The greatest sum of all kinds within so many steps. */
  greatest(within: number): number {
    let sum = Math.min(this.#width - 1, within);
    while (sum > 0 && !this.has(0, sum)) sum--;
    return sum;
  }
}
