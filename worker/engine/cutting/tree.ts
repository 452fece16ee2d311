import { possibleFillings, packedBy } from './allFillings.ts';
import { fractionsOf, largest } from './dive.ts';
import { greedyPacking } from './greedy.ts';
import { lossesAt } from './losses.ts';
import { isEmpty, needed, without, type Found, type Rest, type Search } from './packing.ts';
import type { Fill } from './fillings.ts';

/**
 * An exact search: the filling that the fractions use most is taken once; where the rest is proven impossible then, no
 * length is filled within it, and so on. A node with few enough possible fillings is decided by all of them. `budget`:
 * how many nodes may still be looked at, and how many fillings are few enough.
 */
export async function searchTree(
  search: Search,
  rest: Rest,
  budget: { nodes: number; readonly fillings: number },
  shutOut: readonly Fill[] = [],
): Promise<Found> {
  if (isEmpty(rest)) return [];
  const greedy = greedyPacking(search.cutting, rest);
  if (greedy) return greedy;
  const barred = [...shutOut];
  for (;;) {
    if (--budget.nodes < 0) return 'unknown';
    const answer = await fractionsOf(search, rest, false, barred);
    if (!answer) return 'unknown';
    const losses = lossesAt(search, rest, answer.values, barred);
    if (losses && losses.spare < 0) return 'impossible';
    if (losses) {
      const fills = possibleFillings(search, rest, losses, budget.fillings, barred);
      if (fills) return packedBy(fills, search, rest, budget.nodes);
    }
    const chosen = largest(answer.used);
    // No filling is left to be used, though the bound does not show it.
    if (!chosen) return 'unknown';
    const fill = needed(chosen.fill, rest);
    const below = await searchTree(search, without(rest, { fill, times: 1 }), budget, barred);
    if (below === 'unknown') return 'unknown';
    if (below !== 'impossible') return [{ fill, times: 1 }, ...below];
    barred.push(fill);
  }
}
