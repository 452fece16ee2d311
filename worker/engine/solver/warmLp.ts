import type { Highs, Model } from 'highs';
import { Cancelled, type Control } from '../model/control.ts';
import { highs } from './highs.ts';
import { BeyondSolver } from './milp.ts';
import type { Entry } from './model.ts';
import { SIMPLEX_ERROR } from './tolerances.ts';

/** A column of a linear programme: its cost, its limits, and its entries by row. */
export interface LpColumn {
  cost: number;
  lower: number;
  upper: number;
  entries: readonly Entry[];
}

/** An optimal basis; `infeasible`: no values satisfy the rows. */
export type WarmAnswer =
  | { status: 'optimal'; objective: number; values: Float64Array; rowDuals: Float64Array }
  | { status: 'infeasible' };

const OPTIONS = {
  output_flag: false,
  primal_feasibility_tolerance: SIMPLEX_ERROR,
  dual_feasibility_tolerance: SIMPLEX_ERROR,
  random_seed: 1,
} as const;

/** Seconds. */
const NO_END = 1e9;

/** The two simplex methods: the basis stays primal feasible when columns are added, dual feasible when limits change. */
const SIMPLEX = { primal: 4, dual: 1 } as const;

/**
 * A linear programme, minimised, to which columns are added and whose limits change between solves; each solve goes on from
 * the last basis. It holds memory of the solver's until it is disposed of.
 */
export class WarmLp {
  readonly #solver: Highs;
  readonly #model: Model;
  columns = 0;

  private constructor(solver: Highs, model: Model) {
    this.#solver = solver;
    this.#model = model;
  }

  /** A programme of these rows, without columns yet. */
  static async ofRows(rows: readonly { lower: number; upper: number }[]): Promise<WarmLp> {
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
    return new WarmLp(solver, model);
  }

  /** Adds columns; the first has the number that `columns` had before. Throws BeyondSolver. */
  add(list: readonly LpColumn[]): void {
    if (list.length === 0) return;
    const starts = [0];
    const indices: number[] = [];
    const values: number[] = [];
    for (const { entries } of list) {
      for (const [row, value] of entries) {
        indices.push(row);
        values.push(value);
      }
      starts.push(indices.length);
    }
    const columns = {
      cost: Float64Array.from(list, ({ cost }) => cost),
      lower: Float64Array.from(list, ({ lower }) => lower),
      upper: Float64Array.from(list, ({ upper }) => upper),
      matrix: {
        format: 'csc' as const,
        numRows: this.#model.getDimensions().numRows,
        numCols: list.length,
        starts: Int32Array.from(starts),
        indices: Int32Array.from(indices),
        values: Float64Array.from(values),
      },
    };
    taken(() => this.#model.addCols(columns));
    this.columns += list.length;
  }

  limitColumn(column: number, lower: number, upper: number): void {
    this.#model.changeColBounds(column, lower, upper);
  }

  changeCost(column: number, cost: number): void {
    this.#model.changeColCost(column, cost);
  }

  limitRow(row: number, lower: number, upper: number): void {
    this.#model.changeRowBounds(row, lower, upper);
  }

  /**
   * Undefined where the control's time runs out first. Throws Cancelled, and BeyondSolver where the simplex method gives
   * way, or ends without an optimum.
   */
  solve(by: keyof typeof SIMPLEX, control: Control): WarmAnswer | undefined {
    if (control.cancelled()) throw new Cancelled();
    const seconds = control.remainingMs() / 1000;
    if (seconds <= 0) return undefined;
    const { options } = this.#model;
    options.set('simplex_strategy', SIMPLEX[by]);
    this.#model.zeroAllClocks();
    options.set('time_limit', Number.isFinite(seconds) ? seconds : NO_END);
    const { modelStatus } = this.#run();
    const status = this.#solver.constants.modelStatus;
    if (modelStatus === status.infeasible) return { status: 'infeasible' };
    if (modelStatus === status.timeLimit) return undefined;
    if (modelStatus !== status.optimal) throw new BeyondSolver(`the solver ended in state ${modelStatus}`);
    const { colValue, rowDual } = this.#model.getSolution();
    return {
      status: 'optimal',
      objective: this.#model.getObjectiveValue(),
      values: colValue,
      rowDuals: rowDual,
    };
  }

  /** From the last basis; where the simplex method gives way there, once more without it. */
  #run(): { modelStatus: number } {
    try {
      return this.#model.run();
    } catch {
      return taken(() => {
        this.#model.clearSolver();
        return this.#model.run();
      });
    }
  }

  dispose(): void {
    this.#model.dispose();
  }
}

function taken<T>(hand: () => T): T {
  try {
    return hand();
  } catch (error) {
    throw new BeyondSolver('the solver gave way', { cause: error });
  }
}
