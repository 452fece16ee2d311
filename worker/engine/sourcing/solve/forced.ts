import type { Control } from '../../model/control.ts';
import { solverToExactFloor, type Exact } from '../../units/money.ts';
import { forcedCosts } from '../search/searchMix.ts';
import type { Band, Problem } from '../problem/problem.ts';
import type { Solved } from './solve.ts';
import { SOLVER_COST } from '../../solver/tolerances.ts';

/**
 * For each choice a lower bound on the cost of every plan that buys any of it, in however many units, and leaves no more
 * undone than the solved plan; where parcels of the choice's supplier, in all its orders, may also be charged by any band
 * below the one in which their value lies. In the problem's scale, by the choices' places. A parcel whose goods fall in
 * price may come to lie in such a band: so these bounds, less that fall at the greatest rate, hold for it too.
 */
export async function forcedBounds(
  problem: Problem,
  { plan, bound }: Pick<Solved, 'plan' | 'bound'>,
  control: Control,
): Promise<Exact[]> {
  const { choices, suppliers, scale } = problem;
  // Where no lower band charges less, what no plan goes below holds for these as well.
  const holds = suppliers.map(({ bands }) =>
    bands.every((band) => bands.every((lower) => lower.from >= band.from || !chargesLess(lower, band))),
  );
  const isWhole = plan.unmet.length === 0 && plan.without.length === 0;
  const forced = isWhole ? await forcedCosts(problem, control) : undefined;
  return choices.map(({ supplier }, at) => {
    if (holds[supplier] !== true) return 0n;
    const own = forced?.[at];
    const known =
      own === undefined || !Number.isFinite(own) ? 0n : solverToExactFloor(own - SOLVER_COST, scale);
    return known > bound ? known : bound;
  });
}

/** Whether some goods of a band's values would cost less in a lower one. */
function chargesLess(lower: Band, { from, charge, rate }: Band): boolean {
  return lower.rate < rate || lower.charge + lower.rate * from < charge + rate * from;
}
