import { Cancelled, type Control } from '../model/control.ts';
import { BeyondSolver, hasLargeCoefficients, solveMilp, type MilpAnswer } from '../solver/milp.ts';
import { objectiveAt } from '../solver/model.ts';
import { exactToSolver, HALF_MINOR, solverToExactFloor, type Exact } from '../units/money.ts';
import { formulate, type Aim } from './formulate.ts';
import { greedyPlan } from './greedy.ts';
import { compareFractions, costOf, grain, suppliersIn, wasteOf } from './pricing.ts';
import type { Plan, Problem } from './problem.ts';

/** The cheapest mix found, and what is proven about it. */
export interface Solved {
  plan: Plan;
  cost: Exact;
  /** No plan costs less than this. */
  bound: Exact;
  proven: boolean;
  /** Where it is not proven: whether the time ran out, or the numbers are beyond what the solver can hold. */
  stoppedBy?: 'time' | 'numbers';
  /** Whether equally cheap plans were compared to the end: least waste, then fewest suppliers. */
  tiesSettled: boolean;
}

/** Reported while solving: amounts in minor units, as the solver holds them. */
export type OnProgress = (known: { best: number | undefined; bound: number | undefined }) => void;

/** By how much the solver's cost of a plan may differ from the exact one: minor units, and a share of very large costs. */
const SOLVER_NOISE = 0.001;
const SOLVER_NOISE_SHARE = 1e-12;

/**
 * Finds the plan of least delivered cost; of those the one of least waste; of those the one from fewest suppliers.
 * Within the control's time; what is not proven by then is said. Throws Cancelled.
 */
export async function solveProblem(
  problem: Problem,
  control: Control,
  onProgress?: OnProgress,
): Promise<Solved> {
  const start = greedyPlan(problem);
  const {
    plan: first,
    bound: solverBound,
    stoppedBy,
  } = await leastCostOr(problem, start, control, onProgress);
  const cost = costOf(problem, first);
  const closed = solverBound > cost - grain(problem);
  if (!closed) {
    const proven = cost - solverBound < HALF_MINOR;
    return {
      plan: first,
      cost,
      bound: solverBound,
      proven,
      tiesSettled: false,
      ...(proven || stoppedBy === undefined ? {} : { stoppedBy }),
    };
  }
  const { plan, settled } = await settleTies(problem, first, cost, control);
  return { plan, cost, bound: cost, proven: true, tiesSettled: settled };
}

/**
 * With very fine prices beside very large values the solver's own arithmetic may give way: then the answer is the plan
 * that was at hand, and nothing is claimed about it. With ordinary prices the same is a fault of ours, and is thrown.
 */
async function leastCostOr(
  problem: Problem,
  start: Plan,
  control: Control,
  onProgress: OnProgress | undefined,
): Promise<Found> {
  try {
    return await leastCost(problem, start, control, onProgress);
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    const large = hasLargeCoefficients(formulate(problem, { least: 'cost' }).model);
    if (!large && !(error instanceof BeyondSolver)) throw error;
    return { plan: start, bound: 0n, stoppedBy: 'numbers' };
  }
}

interface Found {
  plan: Plan;
  bound: Exact;
  stoppedBy?: 'time' | 'numbers';
}

async function leastCost(
  problem: Problem,
  start: Plan,
  control: Control,
  onProgress: OnProgress | undefined,
): Promise<Found> {
  const form = formulate(problem, { least: 'cost' });
  const answer = await solveMilp(form.model, control, {
    seed: form.seed(start),
    ...(onProgress ? { onProgress } : {}),
  });
  if (answer.status === 'infeasible')
    throw new Error('the solver called a problem with a known plan infeasible');
  const bound = Number.isFinite(answer.bound) ? solverToExactFloor(answer.bound) : 0n;
  const found = answer.values && form.plan(answer.values);
  const stopped =
    answer.status === 'interrupted' ? { stoppedBy: answer.stoppedBy } : { stoppedBy: 'numbers' as const };
  if (!found) return { plan: start, bound: atLeastZero(bound), ...stopped };
  const exact = costOf(problem, found);
  checkCost(objectiveAt(form.model, form.seed(found)), exact);
  if (answer.status === 'optimal') checkCost(answer.objective, exact);
  return { plan: exact <= costOf(problem, start) ? found : start, bound: atLeastZero(bound), ...stopped };
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
  control: Control,
): Promise<{ plan: Plan; settled: boolean }> {
  const lessWaste = await stage(problem, first, { least: 'waste', cost }, control);
  // A stage that time ended would leave a plan that another run does not find: the first one is kept.
  if (!lessWaste.settled) return { plan: first, settled: false };
  const waste = wasteOf(problem, lessWaste.plan);
  const fewest = await stage(problem, lessWaste.plan, { least: 'suppliers', cost, waste }, control);
  return fewest.settled ? fewest : { plan: first, settled: false };
}

async function stage(
  problem: Problem,
  before: Plan,
  aim: Exclude<Aim, { least: 'cost' }>,
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
function better(problem: Problem, found: Plan, before: Plan, aim: Exclude<Aim, { least: 'cost' }>): boolean {
  if (costOf(problem, found) !== aim.cost) return false;
  const waste = compareFractions(wasteOf(problem, found), wasteOf(problem, before));
  if (aim.least === 'waste') return waste < 0;
  return waste < 0 || (waste === 0 && suppliersIn(problem, found) < suppliersIn(problem, before));
}
