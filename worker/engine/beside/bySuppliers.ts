import type { Control } from '../model/control.ts';
import { isWorse, setOf, type Mix } from './mix.ts';
import { workOneShop } from './oneShop.ts';
import type { Pool } from './pool.ts';
import { solveUnder } from './solveUnder.ts';
import { isOver, sliceOf } from './time.ts';

/** The cheapest mix from at most so many suppliers. */
export interface AtMost {
  atMost: number;
  mix: Mix;
}

/** Works the cheapest mix from at most one supplier, two, three … to one fewer than the quote has. Throws Cancelled. */
export async function workBySuppliers(pool: Pool, control: Control): Promise<void> {
  const { fewest, most } = numbersOf(pool);
  for (let atMost = fewest; atMost < most; atMost++) {
    const { mix, isNone } = pool.answer({ ...pool.asked(), atMost });
    if (isNone || mix?.proven === true) continue;
    if (isOver(control)) return;
    const slice = sliceOf(control, most - atMost);
    await (atMost === 1 ? workOneShop(pool, slice) : solveUnder(pool, { ...pool.asked(), atMost }, slice));
  }
}

/**
 * The cheapest mix from at most one supplier, two, three … until it costs no more than the quote's, which stands last.
 * Suppliers insisted on stay so: it begins with as many as they are. `left`: so many were not worked to the end.
 */
export function bySuppliers(pool: Pool): { points: AtMost[]; left: number } {
  const { plan, cost } = pool.quote();
  const { fewest, most } = numbersOf(pool);
  const points: AtMost[] = [];
  let left = 0;
  for (let atMost = fewest; atMost < most; atMost++) {
    const { mix, isNone } = pool.answer({ ...pool.asked(), atMost });
    if (!isNone && mix?.proven !== true) left++;
    if (!mix || !isSaid(mix, plan)) continue;
    points.push({ atMost, mix });
    if (!isWorse(mix.plan, plan) && mix.cost <= cost) return { points, left };
  }
  const own = pool.answer(pool.asked()).mix;
  return { points: own && most > 0 ? [...points, { atMost: most, mix: own }] : points, left };
}

/** Where it is not proven, more may go unmet than must: then it is told only where it meets as many requirements as the quote. */
export function isSaid(mix: Mix, quoted: Mix['plan']): boolean {
  return mix.proven || mix.plan.unmet.length <= quoted.unmet.length;
}

function numbersOf(pool: Pool): { fewest: number; most: number } {
  return {
    fewest: Math.max(1, pool.asked().from.length),
    most: setOf(pool.problem, pool.quote().plan).length,
  };
}
