import type { Model } from 'highs';
import { Cancelled, type Control } from '../model/control.ts';
import { highs } from './highs.ts';
import { objectiveAt, worstBreach, type MilpModel } from './model.ts';
import {
  BROKEN_ROW,
  BROKEN_ROW_UNROUNDED,
  KEPT_COEFFICIENT,
  SIMPLEX_ERROR,
  WHOLE_NUMBER,
  WHOLE_NUMBER_LARGE,
} from './tolerances.ts';

/**
 * How a solve ended. `values` are whole numbers that satisfy the model; an interrupted solve may have none. `bound` is
 * what the solver has proven that no solution goes below; -Infinity where it has proven nothing.
 */
export type MilpAnswer =
  | { status: 'optimal'; values: number[]; objective: number; bound: number }
  | {
      status: 'interrupted';
      values?: number[];
      objective?: number;
      bound: number;
      stoppedBy: 'time' | 'numbers';
    }
  | { status: 'infeasible' };

/** What the solver knows while it works. */
export interface MilpProgress {
  best: number | undefined;
  bound: number | undefined;
}

export interface MilpOptions {
  /** A full vector to start from. */
  seed?: readonly number[];
  /** So many nodes are looked at; then the solve is interrupted as by time, but at the same place on any machine. */
  mostNodes?: number;
  /** Called whenever the best solution or the bound has moved. */
  onProgress?: (progress: MilpProgress) => void;
}

const OPTIONS = {
  output_flag: false,
  mip_rel_gap: 0,
  mip_abs_gap: 0,
  mip_feasibility_tolerance: WHOLE_NUMBER,
  primal_feasibility_tolerance: SIMPLEX_ERROR,
  dual_feasibility_tolerance: SIMPLEX_ERROR,
  random_seed: 1,
} as const;

/**
 * With coefficients so large, the solver's presolve has been seen to shut the optimum out and to prove another mix;
 * without it, and with small coefficients kept, it was right. Ordinary prices are solved with presolve.
 */
const FOR_LARGE_COEFFICIENTS = {
  presolve: 'off',
  small_matrix_value: KEPT_COEFFICIENT,
  mip_feasibility_tolerance: WHOLE_NUMBER_LARGE,
} as const;
const LARGE_COEFFICIENT = 1e6;

/**
 * Solves a whole-number model to its optimum, or as far as the control's time goes.
 * Throws Cancelled when the control says so, and Error when the solver fails or its answer does not hold.
 */
export async function solveMilp(
  model: MilpModel,
  control: Control,
  options: MilpOptions = {},
): Promise<MilpAnswer> {
  const solver = await highs();
  if (control.cancelled()) throw new Cancelled();
  const seconds = control.remainingMs() / 1000;
  if (!withinReach(model)) return { status: 'interrupted', bound: -Infinity, stoppedBy: 'numbers' };
  if (seconds <= 0) return { status: 'interrupted', bound: -Infinity, stoppedBy: 'time' };
  const instance = taken(() => solver.createModel(toHighs(model)));
  try {
    instance.options.set(OPTIONS);
    if (hasLargeCoefficients(model)) instance.options.set(FOR_LARGE_COEFFICIENTS);
    if (Number.isFinite(seconds)) instance.options.set('time_limit', seconds);
    if (options.mostNodes !== undefined) instance.options.set('mip_max_nodes', options.mostNodes);
    if (options.seed) instance.setSolution({ colValue: [...options.seed] });
    const { modelStatus } = instance.run({
      [solver.constants.callbackType.mipInterrupt]: watch(control, options.onProgress),
    });
    if (control.cancelled()) throw new Cancelled();
    const status = solver.constants.modelStatus;
    if (modelStatus === status.infeasible) return { status: 'infeasible' };
    if (
      modelStatus !== status.optimal &&
      modelStatus !== status.timeLimit &&
      modelStatus !== status.solutionLimit &&
      modelStatus !== status.interrupted
    )
      throw fault(model, `the solver ended in state ${modelStatus}`);
    const bound = Number(instance.info.get('mip_dual_bound'));
    const feasible = instance.info.get('primal_solution_status') === solver.constants.solutionStatus.feasible;
    if (modelStatus === status.optimal) return { status: 'optimal', ...rounded(model, instance), bound };
    return feasible
      ? { status: 'interrupted', ...rounded(model, instance), bound, stoppedBy: 'time' }
      : { status: 'interrupted', bound, stoppedBy: 'time' };
  } finally {
    instance.dispose();
  }
}

/** The solver refuses a model whose numbers it cannot hold, or gave way under them. */
export class BeyondSolver extends Error {}

/** With ordinary numbers a failure is a fault of ours. */
function fault(model: MilpModel, message: string): Error {
  return hasLargeCoefficients(model) ? new BeyondSolver(message) : new Error(message);
}

function taken<T>(hand: () => T): T {
  try {
    return hand();
  } catch (error) {
    throw new BeyondSolver('the solver does not take the model', { cause: error });
  }
}

/** Beyond these the solver refuses a model, or was seen to run on without an end and without looking at its time. */
const MOST_UNITS = 1e9;
const MOST_COEFFICIENT = 1e14;

/** Whether the model's coefficients are so large that the solver's answer needs care. */
export function hasLargeCoefficients(model: MilpModel): boolean {
  return model.coefficients.some((value) => Math.abs(value) > LARGE_COEFFICIENT);
}

/** Whether a model's numbers are of a size that the solver can hold; larger ones count as not solved. */
function withinReach(model: MilpModel): boolean {
  const unrounded = new Set(model.continuous);
  const holds = (values: readonly number[], most: number) => values.every((value) => Math.abs(value) <= most);
  return (
    holds(
      model.colUpper.filter((_, column) => !unrounded.has(column)),
      MOST_UNITS,
    ) &&
    holds(model.colCost, MOST_COEFFICIENT) &&
    holds(model.coefficients, MOST_COEFFICIENT)
  );
}

/** 1: whole; 0: any number. */
function integralityOf(model: MilpModel): (0 | 1)[] {
  const whole = new Array<0 | 1>(model.colCost.length).fill(1);
  for (const column of model.continuous) whole[column] = 0;
  return whole;
}

function toHighs(model: MilpModel) {
  const numCols = model.colCost.length;
  const numRows = model.rowLower.length;
  return {
    numCols,
    numRows,
    colCost: model.colCost,
    colLower: model.colLower,
    colUpper: model.colUpper,
    rowLower: model.rowLower,
    rowUpper: model.rowUpper,
    integrality: integralityOf(model),
    matrix: {
      format: 'csr' as const,
      numRows,
      numCols,
      starts: model.starts,
      indices: model.indices,
      values: model.coefficients,
    },
  };
}

/** The solver's values, whole where they are to be, after checking that they still satisfy the model. */
function rounded(model: MilpModel, instance: Model): { values: number[]; objective: number } {
  const unrounded = new Set(model.continuous);
  const values = Array.from(instance.getSolution().colValue, (value, column) =>
    unrounded.has(column) ? value : Math.round(value) + 0,
  );
  const breach = worstBreach(model, values);
  if (breach > (unrounded.size > 0 ? BROKEN_ROW_UNROUNDED : BROKEN_ROW))
    throw fault(model, `the solver's rounded answer breaks a row by ${breach}`);
  return { values, objective: objectiveAt(model, values) };
}

/** Stops the solver on cancel and passes on what it knows, each time that this has moved. */
function watch(control: Control, onProgress: MilpOptions['onProgress']) {
  let last = '';
  return (event: {
    data: { mip_primal_bound?: number; mip_dual_bound?: number };
    interrupt(): void;
  }): undefined => {
    if (control.cancelled()) {
      event.interrupt();
      return;
    }
    const best = finite(event.data.mip_primal_bound);
    const bound = finite(event.data.mip_dual_bound);
    const now = `${best} ${bound}`;
    if (now === last) return;
    last = now;
    onProgress?.({ best, bound });
  };
}

/** The solver writes "none" as infinity. */
function finite(value: number | undefined): number | undefined {
  return value !== undefined && Math.abs(value) < 1e30 ? value : undefined;
}
