/** A mixed-integer model in sparse arrays: minimise cost · x subject to rowLower ≤ Ax ≤ rowUpper, colLower ≤ x ≤ colUpper. */
export interface MilpModel {
  colCost: number[];
  colLower: number[];
  colUpper: number[];
  rowLower: number[];
  rowUpper: number[];
  /** Rows one after another: row i holds the entries from starts[i] up to starts[i + 1]. */
  starts: number[];
  indices: number[];
  coefficients: number[];
  /** Columns that need not be whole. */
  continuous: number[];
}

export type Entry = readonly [column: number, coefficient: number];

/** Builds a model column by column and row by row. */
export class ModelBuilder {
  readonly #model: MilpModel = {
    colCost: [],
    colLower: [],
    colUpper: [],
    rowLower: [],
    rowUpper: [],
    starts: [0],
    indices: [],
    coefficients: [],
    continuous: [],
  };

  /** Adds a whole-number column and says which it is. */
  column(cost: number, lower: number, upper: number): number {
    this.#model.colCost.push(cost);
    this.#model.colLower.push(lower);
    this.#model.colUpper.push(upper);
    return this.#model.colCost.length - 1;
  }

  /** Adds a column that need not be whole. */
  continuous(cost: number, lower: number, upper: number): number {
    const column = this.column(cost, lower, upper);
    this.#model.continuous.push(column);
    return column;
  }

  /** Adds a row; entries with coefficient 0 are left out. */
  row(lower: number, upper: number, entries: Iterable<Entry>): void {
    for (const [column, coefficient] of entries) {
      if (coefficient === 0) continue;
      this.#model.indices.push(column);
      this.#model.coefficients.push(coefficient);
    }
    this.#model.rowLower.push(lower);
    this.#model.rowUpper.push(upper);
    this.#model.starts.push(this.#model.indices.length);
  }

  build(): MilpModel {
    return this.#model;
  }
}

/** What a model's objective comes to at these values. */
export function objectiveAt(model: MilpModel, values: readonly number[]): number {
  return model.colCost.reduce((sum, cost, column) => sum + cost * (values[column] ?? 0), 0);
}

/** By how much the values break the row or bound that they break worst, relative to the size of that row's terms. */
export function worstBreach(model: MilpModel, values: readonly number[]): number {
  let worst = 0;
  values.forEach((value, column) => {
    worst = Math.max(
      worst,
      (model.colLower[column] ?? 0) - value,
      value - (model.colUpper[column] ?? Infinity),
    );
  });
  for (let row = 0; row < model.rowLower.length; row++) {
    let activity = 0;
    let size = 1;
    for (let at = model.starts[row] ?? 0; at < (model.starts[row + 1] ?? 0); at++) {
      const term = (model.coefficients[at] ?? 0) * (values[model.indices[at] ?? 0] ?? 0);
      activity += term;
      size = Math.max(size, Math.abs(term));
    }
    const breach = Math.max(
      (model.rowLower[row] ?? -Infinity) - activity,
      activity - (model.rowUpper[row] ?? Infinity),
    );
    worst = Math.max(worst, breach / size);
  }
  return worst;
}
