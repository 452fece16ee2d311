import type { Entry, MilpModel } from '../../solver/model.ts';
import type { LpColumn } from '../../solver/warmLp.ts';
import { modelOf } from './columnModel.ts';
import type { Priced } from './rows.ts';

/** A whole-number model that is put together column by column; rows may be added, and a parcel's column extended into them. */
export class LeafModel {
  readonly #limits: { lower: number; upper: number }[];
  readonly #columns: (LpColumn & { entries: Entry[]; whole: boolean })[] = [];
  readonly #parcels = new Map<number, number>();

  constructor(limits: readonly { lower: number; upper: number }[]) {
    this.#limits = limits.map((each) => ({ ...each }));
  }

  add({ cost, entries }: Priced, upper: number, whole: boolean): number {
    this.#columns.push({ cost, entries: [...entries], lower: 0, upper, whole });
    return this.#columns.length - 1;
  }

  addParcel(k: number, column: Priced): void {
    this.#parcels.set(k, this.add(column, 1, true));
  }

  row(lower: number, upper: number): number {
    this.#limits.push({ lower, upper });
    return this.#limits.length - 1;
  }

  /** Holds a row's sum at this at the least. */
  raise(row: number, lower: number): void {
    this.#limits[row]!.lower = lower;
  }

  limit(row: number, lower: number, upper: number): void {
    this.#limits[row] = { lower, upper };
  }

  /** A row from which is taken what the columns of another have there that were added before and meet what it asks for. */
  follow(of: number, row: number): void {
    for (const { entries } of this.#columns)
      for (const [own, value] of [...entries]) if (own === of && value > 0) entries.push([row, -value]);
  }

  /** Adds to the column that says whether a parcel is sent; nothing where it is shut. */
  extend(k: number, entry: Entry): void {
    const column = this.#parcels.get(k);
    if (column !== undefined) this.#columns[column]!.entries.push(entry);
  }

  /** The model, held under a cost. */
  build(most: number): MilpModel {
    return modelOf(this.#limits, this.#columns, most);
  }
}
