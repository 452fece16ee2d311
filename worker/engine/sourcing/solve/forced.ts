import type { Control } from '../../model/control.ts';
import { solverToExactFloor, type Exact } from '../../units/money.ts';
import type { Band, Problem } from '../problem/problem.ts';
import type { FallLine } from '../search/fallen.ts';
import type { Living } from '../search/living.ts';
import type { Solved } from './solve.ts';
import { SOLVER_COST } from '../../solver/tolerances.ts';

/** What plans cost at the least that leave no more undone than a solved plan and buy something by force. */
export interface ForcedBounds {
  /**
   * By choice: of every plan that buys any of it, in however many units; where parcels of the choice's supplier, in all its
   * orders, may also be charged by any band below the one in which their value lies. In the problem's scale. A parcel whose
   * goods fall in price may come to lie in such a band: so these bounds, less that fall at the greatest rate, hold for it too.
   */
  least: Exact[];
  /** By choice: the same where the prices of the choice alone fall, minor units; undefined where that is not known. */
  lines: (readonly FallLine[] | undefined)[];
  /** By supplier: of every plan that buys anything of it. In the problem's scale. */
  suppliers: Exact[];
}

/** By a living search of the problem; without one no more is known than the solved plan's bound. Throws Cancelled. */
export function forcedBounds(
  { choices, suppliers, scale }: Problem,
  { plan, bound }: Pick<Solved, 'plan' | 'bound'>,
  living: Living | undefined,
  control: Control,
): ForcedBounds {
  const isWhole = plan.unmet.length === 0 && plan.without.length === 0;
  const used = new Set(choices.flatMap(({ supplier }, at) => ((plan.units[at] ?? 0) > 0 ? [supplier] : [])));
  const forced = isWhole ? living?.forced((supplier) => used.has(supplier), control) : undefined;
  const exact = (minor: number) =>
    Number.isFinite(minor) ? solverToExactFloor(minor - SOLVER_COST, scale) : 0n;
  const atLeast = (known: Exact) => (known > bound ? known : bound);
  // Where no lower band charges less, what no plan goes below holds for these as well.
  const holds = suppliers.map(({ bands }) =>
    bands.every((band) => bands.every((lower) => lower.from >= band.from || !chargesLess(lower, band))),
  );
  return {
    least: choices.map(({ supplier }, at) => {
      const lines = forced?.lines[at];
      if (holds[supplier] !== true) return 0n;
      return atLeast(lines ? exact(Math.min(...lines.map(({ fixed, falling }) => fixed + falling))) : 0n);
    }),
    lines: choices.map((_, at) =>
      forced?.lines[at]?.map(({ fixed, falling }) => ({ fixed: fixed - SOLVER_COST, falling })),
    ),
    suppliers: suppliers.map((_, at) => atLeast(exact(forced?.suppliers[at] ?? 0))),
  };
}

/** Whether some goods of a band's values would cost less in a lower one. */
function chargesLess(lower: Band, { from, charge, rate }: Band): boolean {
  return lower.rate < rate || lower.charge + lower.rate * from < charge + rate * from;
}
