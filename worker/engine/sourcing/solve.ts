import { Cancelled, type Control } from '../model/control.ts';
import { BeyondSolver, hasLargeCoefficients, solveMilp, type MilpAnswer } from '../solver/milp.ts';
import { objectiveAt } from '../solver/model.ts';
import { exactToSolver, HALF_MINOR, solverToExactFloor, type Exact } from '../units/money.ts';
import { formulate, type Aim } from './formulate.ts';
import { greedyPlan, leavingAll, partialPlan } from './greedy.ts';
import { compareFractions, costOf, grain, suppliersIn, wasteOf } from './pricing.ts';
import type { Plan, Problem } from './problem.ts';
import { hasWays, relaxed } from './relaxed.ts';

/** The cheapest mix found, and what is proven about it. */
export interface Solved {
  plan: Plan;
  cost: Exact;
  /** No plan costs less than this. */
  bound: Exact;
  proven: boolean;
  /** Where it is not proven: whether the time ran out, the numbers are beyond the solver, or not all ways of cutting were tried. */
  stoppedBy?: 'time' | 'numbers' | 'cutting';
  /** Whether equally cheap plans were compared to the end: least waste, then fewest suppliers. */
  tiesSettled: boolean;
}

/** Reported while solving: amounts in minor units, as the solver holds them. */
export type OnProgress = (known: { best: number | undefined; bound: number | undefined }) => void;

/** By how much the solver's cost of a plan may differ from the exact one: minor units, and a share of very large costs. */
const SOLVER_NOISE = 0.001;
const SOLVER_NOISE_SHARE = 1e-12;

/**
 * Finds the plan that leaves the fewest demands unmet; of those the one of least delivered cost; of those the one of
 * least waste; of those the one from fewest suppliers. Within the control's time; what is not proven by then is said.
 * Throws Cancelled.
 */
export async function solveProblem(
  problem: Problem,
  control: Control,
  onProgress?: OnProgress,
): Promise<Solved> {
  // Where not all ways of cutting are tried, the bound is another solve, which gets half the time before the rest is used.
  const start = greedyPlan(problem);
  const lower = hasWays(problem) ? await relaxedBound(problem, halfOf(control)) : undefined;
  const first = await leastCostOr(problem, start, 0, control, onProgress);
  if (first.infeasible !== true) return finished(problem, first, 0, lower, control);
  const fewest = await fewestUnmet(problem, control);
  if (fewest === undefined) return nothingFound(problem);
  const { plan, count, sure } = fewest;
  const found = await leastCostOr(problem, plan, count, control, onProgress);
  // With some needs unmet the mix costs less than one that meets all: that bound says nothing here.
  const solved = await finished(problem, found, count, lower === undefined ? undefined : 0n, control);
  if (sure && !hasWays(problem)) return solved;
  // Fewer might go unmet: what was found is no more than that.
  const stoppedBy = sure ? 'cutting' : 'time';
  return { ...solved, bound: 0n, proven: false, stoppedBy, tiesSettled: false };
}

/** The fewest demands that must go unmet, with a plan that leaves so many; undefined where time ends before one is found. */
async function fewestUnmet(
  problem: Problem,
  control: Control,
): Promise<{ plan: Plan; count: number; sure: boolean } | undefined> {
  const form = formulate(problem, { least: 'unmet' });
  const answer = await solveMilp(form.model, control, { seed: form.seed(leavingAll(problem)) });
  if (answer.status === 'infeasible' || !answer.values) return undefined;
  const plan = form.plan(answer.values);
  return { plan, count: plan.unmet.length, sure: answer.status === 'optimal' };
}

/** Nothing was found by the solver: what a plain plan meets, and no claim about it. */
function nothingFound(problem: Problem, stoppedBy: Solved['stoppedBy'] = 'time'): Solved {
  const plan = partialPlan(problem);
  return { plan, cost: costOf(problem, plan), bound: 0n, proven: false, stoppedBy, tiesSettled: false };
}

/** Judges what was found, and settles ties where nothing is cheaper. */
async function finished(
  problem: Problem,
  found: Found,
  unmet: number,
  lower: Exact | undefined,
  control: Control,
): Promise<Solved> {
  if (!found.plan) return nothingFound(problem, found.stoppedBy);
  const cost = costOf(problem, found.plan);
  const bound = lower ?? found.bound;
  const closed = bound > cost - grain(problem);
  if (!closed) {
    const proven = cost - bound < HALF_MINOR;
    const stoppedBy = hasWays(problem) ? 'cutting' : found.stoppedBy;
    return {
      plan: found.plan,
      cost,
      bound,
      proven,
      tiesSettled: false,
      ...(proven || stoppedBy === undefined ? {} : { stoppedBy }),
    };
  }
  const { plan, settled } = await settleTies(problem, found.plan, cost, unmet, control);
  return { plan, cost, bound: cost, proven: true, tiesSettled: settled };
}

/** Where not all ways of cutting were tried: what no plan goes below, however it cuts. */
async function relaxedBound(problem: Problem, control: Control): Promise<Exact> {
  const easier = relaxed(problem);
  const { bound } = await leastCostOr(easier, undefined, 0, control, undefined);
  return bound;
}

/** Half the time that is left. */
function halfOf(control: Control): Control {
  const kept = control.remainingMs() / 2;
  return {
    ...control,
    remainingMs: () => Math.max(0, control.remainingMs() - (Number.isFinite(kept) ? kept : 0)),
  };
}

interface Found {
  plan: Plan | undefined;
  bound: Exact;
  stoppedBy?: 'time' | 'numbers';
  infeasible?: true;
}

/**
 * With very fine prices beside very large values the solver's own arithmetic may give way: then the answer is the plan
 * that was at hand, and nothing is claimed about it. With ordinary prices the same is a fault of ours, and is thrown.
 */
async function leastCostOr(
  problem: Problem,
  start: Plan | undefined,
  unmet: number,
  control: Control,
  onProgress: OnProgress | undefined,
): Promise<Found> {
  try {
    return await leastCost(problem, start, unmet, control, onProgress);
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    const large = hasLargeCoefficients(formulate(problem, { least: 'cost', unmet }).model);
    if (!large && !(error instanceof BeyondSolver)) throw error;
    return { plan: start, bound: 0n, stoppedBy: 'numbers' };
  }
}

async function leastCost(
  problem: Problem,
  start: Plan | undefined,
  unmet: number,
  control: Control,
  onProgress: OnProgress | undefined,
): Promise<Found> {
  const form = formulate(problem, { least: 'cost', unmet });
  const answer = await solveMilp(form.model, control, {
    ...(start ? { seed: form.seed(start) } : {}),
    ...(onProgress ? { onProgress } : {}),
  });
  if (answer.status === 'infeasible') {
    if (start) throw new Error('the solver called a problem with a known plan infeasible');
    return { plan: undefined, bound: 0n, infeasible: true };
  }
  const bound = atLeastZero(Number.isFinite(answer.bound) ? solverToExactFloor(answer.bound) : 0n);
  const stopped =
    answer.status === 'interrupted' ? { stoppedBy: answer.stoppedBy } : { stoppedBy: 'numbers' as const };
  const found = answer.values && form.plan(answer.values);
  if (!found) return { plan: start, bound, ...stopped };
  const exact = costOf(problem, found);
  checkCost(objectiveAt(form.model, form.seed(found)), exact);
  if (answer.status === 'optimal') checkCost(answer.objective, exact);
  const better = !start || exact <= costOf(problem, start) ? found : start;
  return { plan: better, bound, ...stopped };
}

/** An interrupted answer may stand in a dearer band than its goods; the model's cost of the plan itself must be exact. */
function checkCost(solver: number, exact: Exact): void {
  const noise = Math.max(SOLVER_NOISE, SOLVER_NOISE_SHARE * exactToSolver(exact));
  if (Math.abs(solver - exactToSolver(exact)) > noise)
    throw new Error(`the solver's cost ${solver} is not the exact cost ${exactToSolver(exact)}`);
}

const atLeastZero = (value: Exact) => (value < 0n ? 0n : value);

/** Re-solves at the same cost for least waste, then for fewest suppliers; unless both stages end, the first plan stays. */
async function settleTies(
  problem: Problem,
  first: Plan,
  cost: Exact,
  unmet: number,
  control: Control,
): Promise<{ plan: Plan; settled: boolean }> {
  const lessWaste = await stage(problem, first, { least: 'waste', unmet, cost }, control);
  // A stage that time ended would leave a plan that another run does not find: the first one is kept.
  if (!lessWaste.settled) return { plan: first, settled: false };
  const waste = wasteOf(problem, lessWaste.plan);
  const fewest = await stage(problem, lessWaste.plan, { least: 'suppliers', unmet, cost, waste }, control);
  return fewest.settled ? fewest : { plan: first, settled: false };
}

type Tie = Extract<Aim, { least: 'waste' | 'suppliers' }>;

async function stage(
  problem: Problem,
  before: Plan,
  aim: Tie,
  control: Control,
): Promise<{ plan: Plan; settled: boolean }> {
  const form = formulate(problem, aim);
  let answer: MilpAnswer;
  try {
    answer = await solveMilp(form.model, control, { seed: form.seed(before) });
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    return { plan: before, settled: false };
  }
  if (answer.status === 'infeasible' || !answer.values) return { plan: before, settled: false };
  const found = form.plan(answer.values);
  const settled = answer.status === 'optimal';
  return { plan: better(problem, found, before, aim) ? found : before, settled };
}

/** Judged exactly: the same cost, and less waste, or no more waste and fewer suppliers. */
function better(problem: Problem, found: Plan, before: Plan, aim: Tie): boolean {
  if (costOf(problem, found) !== aim.cost) return false;
  const waste = compareFractions(wasteOf(problem, found), wasteOf(problem, before));
  if (aim.least === 'waste') return waste < 0;
  return waste < 0 || (waste === 0 && suppliersIn(problem, found) < suppliersIn(problem, before));
}
