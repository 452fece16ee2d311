import type { Control } from '../model/control.ts';
import { solveProblem } from '../sourcing/solve/solve.ts';
import { halfMinor, type Exact } from '../units/money.ts';
import { problemUnder, type Conditions } from './conditions.ts';
import { meetsSome } from './mix.ts';
import type { Pool } from './pool.ts';

/**
 * Looks for the cheapest mix under some conditions; what is found goes into the pool, and so does what is proven. `under`:
 * mixes that meet all requirements at this cost or more are of no interest. Throws Cancelled.
 */
export async function solveUnder(
  pool: Pool,
  conditions: Omit<Conditions, 'not'>,
  control: Control,
  under?: Exact,
): Promise<void> {
  const { problem, leads } = pool;
  const { plan, bound, proven } = await solveProblem(problemUnder(problem, conditions, leads), control, {
    ties: false,
    ...(under === undefined ? {} : { under }),
  });
  const isNone = plan.without.length > 0 || !meetsSome(problem, plan);
  if (!isNone) pool.add(plan);
  const unmet = plan.unmet.length;
  // Nothing can be bought so from all that are insisted on, or nothing at all.
  const fewest = isNone ? Infinity : unmet;
  pool.learn({ conditions, unmet, bound, fewest: proven ? fewest : 0 });
  if (!proven && (under === undefined || under - bound >= halfMinor(problem.scale))) pool.isCut = true;
}
