import type { Control } from '../model/control.ts';
import { halfMinor, type Exact } from '../units/money.ts';
import type { Conditions } from './conditions.ts';
import type { Mix } from './mix.ts';
import type { Pool } from './pool.ts';
import { solveUnder } from './solveUnder.ts';
import { isOver, sliceOf } from './time.ts';

/** Conditions parted into branches that take in all mixes under the target's, each some; of interest are mixes that leave so many requirements unmet at the most. */
export interface Parted {
  target: Conditions;
  branches: readonly Omit<Conditions, 'not'>[];
  mostUnmet: number;
}

/**
 * Works the cheapest mix under conditions that are parted into branches: each is solved unless it is known that nothing
 * better can come of it, those first that may be best. What follows for the target from all branches goes into the pool.
 * Throws Cancelled.
 */
export async function workBranches(pool: Pool, parted: Parted, control: Control): Promise<void> {
  const { branches, mostUnmet } = parted;
  const ordered = branches.map((branch) => ({
    branch,
    fewest: pool.fewest(branch),
    bound: pool.bound(branch, Number.isFinite(mostUnmet) ? mostUnmet : 0),
  }));
  // Sorting is stable: equals keep their order.
  ordered.sort((a, b) =>
    a.fewest === b.fewest ? (a.bound < b.bound ? -1 : a.bound > b.bound ? 1 : 0) : a.fewest - b.fewest,
  );
  for (const [at, { branch }] of ordered.entries()) {
    if (isOver(control)) break;
    if (isClosed(pool, parted, branch, 1n)) continue;
    const known = bestOf(pool, parted);
    const under = known?.plan.unmet.length === 0 ? known.cost : undefined;
    await solveUnder(pool, branch, sliceOf(control, ordered.length - at), under);
  }
  learnFromAll(pool, parted);
}

/** So many branches are not worked to the end: something better might come of each. */
export function openIn(pool: Pool, parted: Parted): number {
  return parted.branches.filter((branch) => !isClosed(pool, parted, branch, halfMinor(pool.problem.scale)))
    .length;
}

function bestOf(pool: Pool, { target, mostUnmet }: Parted): Mix | undefined {
  const { mix } = pool.answer(target);
  return mix && mix.plan.unmet.length <= mostUnmet ? mix : undefined;
}

/** Whether nothing that is better by so much can come of a branch. */
function isClosed(pool: Pool, parted: Parted, branch: Conditions, by: Exact): boolean {
  const known = bestOf(pool, parted);
  const fewest = pool.fewest(branch);
  if (!known) return fewest > parted.mostUnmet || fewest === Infinity;
  const unmet = known.plan.unmet.length;
  return fewest > unmet || (fewest === unmet && known.cost - pool.bound(branch, unmet) < by);
}

function learnFromAll(pool: Pool, parted: Parted): void {
  const known = bestOf(pool, parted);
  const unmet = known?.plan.unmet.length ?? -1;
  const bounds = parted.branches
    .filter((branch) => pool.fewest(branch) <= unmet)
    .map((branch) => pool.bound(branch, unmet));
  pool.learn({
    conditions: parted.target,
    fewest: parted.branches.reduce((least, branch) => Math.min(least, pool.fewest(branch)), Infinity),
    unmet,
    bound: bounds.reduce((least, bound) => (bound < least ? bound : least), known?.cost ?? 0n),
  });
}
