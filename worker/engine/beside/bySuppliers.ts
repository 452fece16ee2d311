import type { Control } from '../model/control.ts';
import { cheapest, insistedIn, isWorse, meetsSome, mixOf, setOf, type Mix, type Quoted } from './mix.ts';
import { isOver, sliceOf } from './time.ts';

/** The cheapest mix from at most so many suppliers. */
export interface AtMost {
  atMost: number;
  mix: Mix;
}

/**
 * The cheapest mix from at most one supplier, two, three … until it costs no more than the quote's, which stands last.
 * Suppliers insisted on stay so: it begins with as many as they are. `left`: so many were not worked to the end. Throws
 * Cancelled.
 */
export async function bySuppliers(
  quoted: Quoted,
  control: Control,
): Promise<{ points: AtMost[]; left: number }> {
  const { problem, plan, cost } = quoted;
  const insistOn = insistedIn(quoted);
  const most = setOf(problem, plan).length;
  const points: AtMost[] = [];
  let left = 0;
  for (let atMost = Math.max(1, insistOn.length); atMost < most; atMost++) {
    if (isOver(control)) {
      left += most - atMost;
      break;
    }
    const fewer = { ...problem, insistOn, atMostSuppliers: atMost };
    const found = await cheapest(fewer, quoted, sliceOf(control, most - atMost));
    if (!found.proven) left++;
    // From so few, not all that are insisted on can be bought from; or all goes unmet.
    if (found.plan.without.length > 0 || !meetsSome(problem, found.plan)) continue;
    const mix = better(points.at(-1)?.mix, found, quoted);
    // Where time ended first more may go unmet than must.
    if (!mix.proven && isWorse(mix.plan, plan)) continue;
    points.push({ atMost, mix });
    if (!isWorse(mix.plan, plan) && mix.cost <= cost) return { points, left };
  }
  return { points: most === 0 ? [] : [...points, { atMost: most, mix: mixOf(problem, quoted) }], left };
}

/** What fewer suppliers can do, more can: where time ended first, the mix of fewer may be the better one. */
function better(before: Mix | undefined, found: Mix, quoted: Quoted): Mix {
  if (!before || isWorse(before.plan, found.plan)) return found;
  const isSame = !isWorse(found.plan, before.plan);
  if (isSame && found.cost <= before.cost) return found;
  const bound = isSame ? found.bound : isWorse(before.plan, quoted.plan) ? 0n : quoted.bound;
  return mixOf(quoted.problem, { ...before, bound });
}
