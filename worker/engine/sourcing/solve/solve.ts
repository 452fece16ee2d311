import { Cancelled, within, type Control } from '../../model/control.ts';
import { BeyondSolver, hasLargeCoefficients } from '../../solver/milp.ts';
import { compareFractions } from '../../units/fraction.ts';
import { exactToSolver, halfMinor, solverToExactFloor, type Exact } from '../../units/money.ts';
import { startingKnowledge, type Knowledge } from '../model/counted.ts';
import { NOTHING_LEFT, type Aim, type Left } from '../model/aims.ts';
import { ceilDiv } from '../problem/bands.ts';
import type { OnCertificate } from '../search/certificate.ts';
import { searchMix } from '../search/searchMix.ts';
import { formulate } from '../model/formulate.ts';
import { cheapestSinglePrices, greedyPlan, partialPlan } from './greedy.ts';
import { bestMix, objectiveOf, type Mix, type OnProgress } from '../model/mix.ts';
import { costOf, grain, parcelsIn, wasteOf } from '../problem/pricing.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import {
  BOUND_COST,
  SOLVER_COST,
  SOLVER_COSTS_PER_MINOR,
  SOLVER_COST_SHARE,
} from '../../solver/tolerances.ts';

/** The cheapest mix found, and what is proven about it. */
export interface Solved {
  plan: Plan;
  /** In the problem's scale. */
  cost: Exact;
  /** No plan costs less than this. */
  bound: Exact;
  proven: boolean;
  /** Where it is not proven: whether the time ran out, the numbers are beyond the solver, or the cutting could not be judged. */
  stoppedBy?: 'time' | 'numbers' | 'cutting';
  /** Whether equally cheap plans were compared to the end: least waste, then fewest parcels. */
  tiesSettled: boolean;
  /** Where not: they were begun, and time or numbers ended that. */
  tiesStopped?: true;
}

export interface SolveOptions {
  onProgress?: OnProgress;
  /** false: the first of equally cheap plans will do. */
  ties?: boolean;
  /** Plans of this cost or more are of no interest: the search may end where no other is left, with some such plan. */
  under?: Exact;
  /** Told what each bound of the search closes, and by which multipliers. */
  onCertificate?: OnCertificate;
}

/**
 * Finds the plan that leaves the fewest suppliers out who are insisted on; of those the one with fewest requirements unmet; of those the one of least delivered cost; of those the one of
 * least waste; of those the one with fewest parcels. Within the control's time; what is not proven by then is said.
 * Throws Cancelled, and Error where the solver's cost of its mix is not the exact one.
 */
export async function solveProblem(
  problem: Problem,
  control: Control,
  options: SolveOptions = {},
): Promise<Solved> {
  const start = control.remainingMs();
  const solving: Solving = { problem, knowledge: known(problem, control), control, options, start };
  const first = isHopeless(problem) ? undefined : await withNothingLeft(solving);
  if (first && first.infeasible !== true) return finished(solving, first, NOTHING_LEFT);
  const least = await leastUndone(solving);
  if (least === undefined) return nothingFound(problem);
  const { plan, left, sure } = least;
  const solved = await finished(solving, await leastCost(solving, plan, left), left);
  // Fewer might go unmet: what was found is no more than that.
  return sure === true
    ? solved
    : { ...solved, bound: 0n, proven: false, stoppedBy: sure, tiesSettled: false };
}

/** By the search; what that does not take, by the solver's own model. */
async function withNothingLeft(solving: Solving): Promise<Found> {
  const searched = await search(solving, cheapestSinglePrices(solving.problem));
  return searched ?? leastCost(solving, greedyPlan(solving.problem), NOTHING_LEFT);
}

/** Of what the search solved ties are settled where no more offers than these can be in a mix of the least cost. */
const MOST_TIED = 250;
/** Settling ties takes no longer than the proof did, or this, ms. */
const LEAST_FOR_TIES = 10_000;

interface Solving {
  problem: Problem;
  /** What is known of requirements that are cut by counts: worked out where it is asked for first. */
  knowledge: () => Promise<Knowledge>;
  control: Control;
  options: SolveOptions;
  /** What time was left at the start, ms. */
  start: number;
}

function known(problem: Problem, control: Control): Solving['knowledge'] {
  let knowledge: Promise<Knowledge> | undefined;
  return () => (knowledge ??= startingKnowledge(problem, control));
}

/** Whether some requirement has nothing that serves it, so that meeting all need not be tried. */
function isHopeless({ requirements }: Problem): boolean {
  return requirements.some(({ when, choices }) => when === undefined && choices.length === 0);
}

/** The least that must be left undone, with a plan that leaves just that; undefined where time ends before one is found. */
async function leastUndone({
  problem,
  knowledge,
  control,
}: Solving): Promise<{ plan: Plan; left: Left; sure: true | NonNullable<Solved['stoppedBy']> } | undefined> {
  const plain = partialPlan(problem);
  const mix = await bestMix(problem, { least: 'undone' }, await knowledge(), control, { start: plain });
  if (mix.status === 'infeasible' || !mix.plan) return undefined;
  const sure = mix.status === 'optimal' || mix.stoppedBy;
  // What time left of the search may do less than the plain plan does.
  const [left, ofPlain] = [leftBy(mix.plan), leftBy(plain)];
  const isLess = ofPlain.without - left.without || ofPlain.unmet - left.unmet;
  return isLess < 0 ? { plan: plain, left: ofPlain, sure } : { plan: mix.plan, left, sure };
}

const leftBy = ({ unmet, without }: Plan): Left => ({ unmet: unmet.length, without: without.length });

/** Nothing was found by the solver: what a plain plan meets, and no claim about it. */
function nothingFound(problem: Problem, stoppedBy: Solved['stoppedBy'] = 'time'): Solved {
  const plan = partialPlan(problem);
  return { plan, cost: costOf(problem, plan), bound: 0n, proven: false, stoppedBy, tiesSettled: false };
}

/** Judges what was found, and settles ties where nothing is cheaper. */
async function finished(solving: Solving, found: Found, left: Left): Promise<Solved> {
  const { problem } = solving;
  const { plan, stoppedBy } = found;
  if (!plan) return nothingFound(problem, stoppedBy);
  const cost = costOf(problem, plan);
  const one = grain(problem);
  const noise = (2n * halfMinor(problem.scale)) / SOLVER_COSTS_PER_MINOR;
  // Costs are whole grains: between two of them a bound is as good as the upper one.
  const bound = one > noise ? ceilDiv(found.bound - noise, one) * one : found.bound;
  if (cost - bound >= (one > noise ? one : noise)) {
    const proven = cost - bound < halfMinor(problem.scale);
    return {
      plan,
      cost,
      bound,
      proven,
      tiesSettled: false,
      ...(proven || stoppedBy === undefined ? {} : { stoppedBy }),
    };
  }
  // Costs are whole grains: what lies less than one under it is none.
  const closed = cost - bound < one ? cost : bound;
  const { tied } = found;
  const isLarge =
    tied !== undefined && tied.choices.filter(({ tiers }) => tiers.length > 0).length > MOST_TIED;
  const { control, start } = solving;
  const took = Math.max(start - control.remainingMs(), LEAST_FOR_TIES);
  const settled =
    solving.options.ties === false || isLarge
      ? { plan, settled: false }
      : tied
        ? await settleTies(
            { ...solving, problem: tied, knowledge: known(tied, control), control: within(control, took) },
            plan,
            cost,
            left,
          )
        : await settleTies(solving, plan, cost, left);
  const isStopped = !settled.settled && solving.options.ties !== false && !isLarge;
  return {
    plan: settled.plan,
    cost,
    bound: closed,
    proven: true,
    tiesSettled: settled.settled,
    ...(isStopped ? { tiesStopped: true } : {}),
  };
}

interface Found {
  plan: Plan | undefined;
  bound: Exact;
  stoppedBy?: Solved['stoppedBy'];
  infeasible?: true;
  /** Found by the search: what a mix of the same cost can be made of. */
  tied?: Problem;
}

/**
 * With very fine prices beside very large values the solver's own arithmetic may give way: then the answer is the plan
 * that was at hand, and nothing is claimed about it. With ordinary prices the same is a fault of ours, and is thrown.
 */
async function leastCost(solving: Solving, start: Plan | undefined, left: Left): Promise<Found> {
  const { problem, knowledge, control, options } = solving;
  const aim: Aim = { least: 'cost', left };
  const onProgress = options.onProgress && andKnown(options.onProgress, problem, start);
  try {
    const mix = await bestMix(problem, aim, await knowledge(), control, { start, onProgress });
    return foundIn(problem, await knowledge(), mix, aim, start);
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    const large = hasLargeCoefficients(formulate(problem, aim, await knowledge()).model);
    if (!large && !(error instanceof BeyondSolver)) throw error;
    return { plan: start, bound: 0n, stoppedBy: 'numbers' };
  }
}

/** The search; undefined where it does not take the problem, or cannot finish it for its numbers. */
async function search(
  { problem, control, options }: Solving,
  start: Plan | undefined,
): Promise<Found | undefined> {
  const { onProgress, under, onCertificate } = options;
  const searched = await searchMix(problem, control, {
    ...{ start, onProgress, under, onCertificate },
    ties: options.ties !== false,
  }).catch(orElse);
  if (!searched?.plan)
    return searched?.ended === true && under === undefined && !start
      ? { plan: undefined, bound: 0n, infeasible: true }
      : undefined;
  const { plan } = searched;
  const cost = costOf(problem, plan);
  // Where the search came to its end nothing lies a whole grain under the cost.
  if (searched.ended && (under === undefined || under > cost) && grain(problem) > finest(problem))
    return { plan, bound: cost, ...(searched.tied ? { tied: searched.tied } : {}) };
  const known = searched.bound - BOUND_COST;
  const floor = Number.isFinite(known) ? solverToExactFloor(known, problem.scale) : 0n;
  return {
    plan,
    bound: floor < 0n ? 0n : floor < cost ? floor : cost,
    ...(searched.ended ? {} : { stoppedBy: 'time' }),
    ...(searched.tied ? { tied: searched.tied } : {}),
  };
}

/** What the search cannot finish is for the solver's own model. */
function orElse(error: unknown): undefined {
  if (!(error instanceof BeyondSolver)) throw error;
}

/** Grains finer than this are not told apart by the search. */
function finest({ scale }: Problem): Exact {
  return solverToExactFloor(2 * BOUND_COST, scale);
}

/** What is told while solving, the plan that it starts from with it. */
function andKnown(tell: OnProgress, problem: Problem, start: Plan | undefined): OnProgress {
  if (!start) return tell;
  const known = exactToSolver(costOf(problem, start), problem.scale);
  return ({ best, bound }) => tell({ best: Math.min(known, best ?? known), bound });
}

function foundIn(problem: Problem, knowledge: Knowledge, mix: Mix, aim: Aim, start: Plan | undefined): Found {
  if (mix.status === 'infeasible') {
    if (start) throw new Error('the solver called a problem with a known plan infeasible');
    return { plan: undefined, bound: 0n, infeasible: true };
  }
  const floor = Number.isFinite(mix.bound) ? solverToExactFloor(mix.bound, problem.scale) : 0n;
  const bound = floor < 0n ? 0n : floor;
  const stoppedBy = mix.status === 'stopped' ? mix.stoppedBy : 'numbers';
  if (!mix.plan) return { plan: start, bound, stoppedBy };
  const exact = costOf(problem, mix.plan);
  checkCost(problem, objectiveOf(problem, aim, knowledge, mix.plan), exact);
  if (mix.status === 'optimal') checkCost(problem, mix.objective, exact);
  const better = !start || exact <= costOf(problem, start) ? mix.plan : start;
  return { plan: better, bound, stoppedBy };
}

/** An interrupted answer may stand in a dearer band than its goods; the model's cost of the plan itself must be exact. */
function checkCost({ scale }: Problem, solver: number, exact: Exact): void {
  const minor = exactToSolver(exact, scale);
  const noise = Math.max(SOLVER_COST, SOLVER_COST_SHARE * minor);
  if (Math.abs(solver - minor) > noise)
    throw new Error(`the solver's cost ${solver} is not the exact cost ${minor}`);
}

/** Re-solves at the same cost for least waste, then for fewest parcels; unless both stages end, the first plan stays. */
async function settleTies(
  solving: Solving,
  first: Plan,
  cost: Exact,
  left: Left,
): Promise<{ plan: Plan; settled: boolean }> {
  const lessWaste = await stage(solving, first, { least: 'waste', left, cost });
  // A stage that time ended would leave a plan that another run does not find: the first one is kept.
  if (!lessWaste.settled) return { plan: first, settled: false };
  const waste = wasteOf(solving.problem, lessWaste.plan);
  const fewest = await stage(solving, lessWaste.plan, { least: 'parcels', left, cost, waste });
  return fewest.settled ? fewest : { plan: first, settled: false };
}

type Tie = Extract<Aim, { least: 'waste' | 'parcels' }>;

async function stage(
  { problem, knowledge, control }: Solving,
  before: Plan,
  aim: Tie,
): Promise<{ plan: Plan; settled: boolean }> {
  let mix: Mix;
  try {
    mix = await bestMix(problem, aim, await knowledge(), control, { start: before });
  } catch (error) {
    if (error instanceof Cancelled) throw error;
    return { plan: before, settled: false };
  }
  if (mix.status === 'infeasible' || !mix.plan) return { plan: before, settled: false };
  // Where grains are too fine for the solver, a plan that costs a trace more may come out: then the ties stay open.
  const same = costOf(problem, mix.plan) === aim.cost;
  return {
    plan: same && isBetter(problem, mix.plan, before, aim) ? mix.plan : before,
    settled: mix.status === 'optimal' && same,
  };
}

/** Less waste; or no more waste and fewer parcels. */
function isBetter(problem: Problem, found: Plan, before: Plan, aim: Tie): boolean {
  const waste = compareFractions(wasteOf(problem, found), wasteOf(problem, before));
  if (aim.least === 'waste') return waste < 0;
  return waste < 0 || (waste === 0 && parcelsIn(problem, found) < parcelsIn(problem, before));
}
