import type { Highs, Model } from 'highs';
import { Cancelled, type Control } from '../model/control.ts';
import { highs } from './highs.ts';
import type { Entry } from './model.ts';

/** An optimal basis of a linear programme: its value, the columns' values, and what one more of each row would cost. */
export interface LpAnswer {
  objective: number;
  values: Float64Array;
  rowDuals: Float64Array;
}

const OPTIONS = {
  output_flag: false,
  primal_feasibility_tolerance: 1e-9,
  dual_feasibility_tolerance: 1e-9,
  random_seed: 1,
  // Primal: the last basis stays feasible when columns are added.
  simplex_strategy: 4,
} as const;

/**
 * A linear programme, minimised, that columns are added to between solves; each solve goes on from the last basis.
 * It holds memory of the solver's until it is disposed of.
 */
export class GrowingLp {
  readonly #solver: Highs;
  readonly #model: Model;

  private constructor(solver: Highs, model: Model) {
    this.#solver = solver;
    this.#model = model;
  }

  /** A programme of these rows, without columns yet. */
  static async ofRows(rows: readonly { lower: number; upper: number }[]): Promise<GrowingLp> {
    const solver = await highs();
    const model = solver.createModel({
      numCols: 0,
      numRows: rows.length,
      colCost: [],
      colLower: [],
      colUpper: [],
      rowLower: rows.map(({ lower }) => lower),
      rowUpper: rows.map(({ upper }) => upper),
      matrix: {
        format: 'csr',
        numRows: rows.length,
        numCols: 0,
        starts: rows.map(() => 0).concat(0),
        indices: [],
        values: [],
      },
    });
    model.options.set(OPTIONS);
    return new GrowingLp(solver, model);
  }

  /** Adds a column of at least 0, without an upper end. */
  column(cost: number, entries: readonly Entry[]): void {
    this.#model.addCol(cost, 0, this.#solver.infinity, {
      indices: entries.map(([row]) => row),
      values: entries.map(([, coefficient]) => coefficient),
    });
  }

  /** Undefined where the control's time runs out first. Throws Cancelled, and Error where there is no optimum. */
  solve(control: Control): LpAnswer | undefined {
    if (control.cancelled()) throw new Cancelled();
    const seconds = control.remainingMs() / 1000;
    if (seconds <= 0) return undefined;
    if (Number.isFinite(seconds)) {
      this.#model.zeroAllClocks();
      this.#model.options.set('time_limit', seconds);
    }
    const { modelStatus } = this.#model.run();
    const status = this.#solver.constants.modelStatus;
    if (modelStatus === status.timeLimit) return undefined;
    if (modelStatus !== status.optimal) throw new Error(`the solver ended in state ${modelStatus}`);
    const { colValue, rowDual } = this.#model.getSolution();
    return { objective: this.#model.getObjectiveValue(), values: colValue, rowDuals: rowDual };
  }

  dispose(): void {
    this.#model.dispose();
  }
}
