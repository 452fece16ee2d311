import type { Control } from '../model/control.ts';
import type { Living } from '../sourcing/search/living.ts';
import { solveProblem } from '../sourcing/solve/solve.ts';
import { BeyondSolver } from '../solver/milp.ts';
import { halfMinor, solverToExactFloor, type Exact } from '../units/money.ts';
import { problemUnder, type Conditions } from './conditions.ts';
import { meetsSome } from './mix.ts';
import type { Pool } from './pool.ts';

interface How {
  /** Mixes that meet all requirements at this cost or more are of no interest. */
  under?: Exact | undefined;
  /** Of the pool's problem; it takes what conditions there are on whole suppliers. */
  living?: Living | undefined;
}

/**
 * Looks for the cheapest mix under some conditions, from the best that is known; what is found goes into the pool, and so
 * does what is proven. Throws Cancelled.
 */
export async function solveUnder(
  pool: Pool,
  conditions: Omit<Conditions, 'not'>,
  control: Control,
  { under, living }: How = {},
): Promise<void> {
  const { problem, leads } = pool;
  const { problem: asked, shut } = problemUnder(problem, conditions, leads);
  const { plan, bound, proven } = await solveProblem(asked, control, {
    ties: false,
    start: pool.answer(conditions).mix?.plan,
    ...(under === undefined ? {} : { under }),
    ...(living && shut ? { by: (...[own, by, how]) => living.search(own, shut, by, how) } : {}),
  });
  const isNone = plan.without.length > 0 || !meetsSome(problem, plan);
  if (!isNone) pool.add(plan);
  const unmet = plan.unmet.length;
  // Nothing can be bought so from all that are insisted on, or nothing at all.
  const fewest = isNone ? Infinity : unmet;
  pool.learn({ conditions, unmet, bound, fewest: proven ? fewest : 0 });
  if (!proven && (under === undefined || under - bound >= halfMinor(problem.scale))) pool.isCut = true;
}

/** What the relaxation says that mixes that meet all requirements do not go below: into the pool. Throws Cancelled. */
export function learnBound(
  pool: Pool,
  conditions: Omit<Conditions, 'not'>,
  control: Control,
  living: Living,
): void {
  const { problem, shut } = problemUnder(pool.problem, conditions, pool.leads);
  const bound = shut && boundOf(living, problem, shut, control);
  if (bound !== undefined && Number.isFinite(bound) && bound > 0)
    pool.learn({ conditions, unmet: 0, bound: solverToExactFloor(bound - NOISE, problem.scale), fewest: 0 });
}

/** Of bounds in floating point, minor units. */
const NOISE = 0.001;

function boundOf(...[living, ...asked]: [Living, ...Parameters<Living['bound']>]): number | undefined {
  try {
    return living.bound(...asked);
  } catch (error) {
    if (!(error instanceof BeyondSolver)) throw error;
    return undefined;
  }
}
