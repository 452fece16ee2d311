import type { Control } from '../model/control.ts';
import { greedyPlan, partialPlan } from '../sourcing/solve/greedy.ts';
import { capacityFor, longestFrom } from '../sourcing/problem/units.ts';
import type { Problem } from '../sourcing/problem/problem.ts';
import { workBranches } from './branches.ts';
import { problemUnder, type Conditions } from './conditions.ts';
import type { Pool } from './pool.ts';

/** What is asked of a mix that comes from one supplier at the most. */
export function fromOneShop(pool: Pool): Conditions {
  return { ...pool.asked(), atMost: 1 };
}

/** Works all from one shop: each shop by itself, those first that may meet most. Throws Cancelled. */
export async function workOneShop(pool: Pool, control: Control): Promise<void> {
  const target = fromOneShop(pool);
  const { problem, leads } = pool;
  const codes = [...new Set(problem.suppliers.flatMap(({ code, own }) => (own ? [] : [code])))];
  const shops = codes
    .filter((code) => target.from.every((other) => other === code))
    .map((code) => ({ ...target, shut: codes.filter((other) => other !== code) }));
  for (const conditions of shops) {
    const shop = problemUnder(problem, conditions, leads);
    // Known even where there is no time.
    pool.add(greedyPlan(shop) ?? partialPlan(shop));
    pool.learn({ conditions, fewest: surelyLeft(shop), unmet: -1, bound: 0n });
  }
  await workBranches(pool, { target, branches: shops, mostUnmet: Infinity }, control);
}

/** Requirements that the choices cannot meet whatever else is bought. */
function surelyLeft({ requirements, choices }: Problem): number {
  return requirements.filter((requirement, index) => {
    if (requirement.when !== undefined) return false;
    const own = requirement.choices.flatMap((choice) => choices[choice] ?? []);
    if (own.length === 0 || requirement.how === 'single') return own.length === 0;
    if (requirement.how === 'sum')
      return own.reduce((sum, choice) => sum + capacityFor(choice, index), 0) < requirement.need;
    return !own.some((choice) => longestFrom(choice, index) >= (requirement.pieces[0]?.mm ?? 0));
  }).length;
}
