import type { Control } from '../model/control.ts';
import type { Living } from '../sourcing/search/living.ts';
import { isSaid } from './bySuppliers.ts';
import type { Mix } from './mix.ts';
import { latestIn, type Pool } from './pool.ts';
import { solveUnder } from './solveUnder.ts';
import { isOver, sliceOf } from './time.ts';

/** The cheapest mix of which the first order is there within so many days. */
export interface Within {
  leadDays: number;
  mix: Mix;
}

/** So many days are worked at the most, that of the quote among them. */
const MOST_DAYS = 12;

/**
 * Works the cheapest mix that is there within so many days, from the quote's day downwards: what is there before that day,
 * the cheapest of it, and its own last day; and so on, so that each solve gives a change. What has no lead days is taken to
 * be there in time, as with `neededBy`. Answers with the number of days that are left out, as only so many are worked.
 * Throws Cancelled.
 */
export async function workByDay(pool: Pool, control: Control, living?: Living): Promise<number> {
  const days = daysOf(pool);
  let worked = 1;
  for (let at = days.length - 2; at >= 0; worked++) {
    if (worked >= MOST_DAYS) return at + 1;
    const conditions = { ...pool.asked(), days: days[at]! };
    const before = pool.answer(conditions);
    if (!before.isNone && before.mix?.proven !== true) {
      if (isOver(control)) return 0;
      await solveUnder(pool, conditions, sliceOf(control, at + 1), { living });
    }
    const { mix, isNone } = pool.answer(conditions);
    // What cannot be had by this day cannot be by an earlier one.
    if (isNone) return 0;
    const last = mix?.proven === true ? latestIn(mix.plan, pool.leads) : undefined;
    // The cheapest is there sooner still: so are those of the days between.
    at = (last === undefined ? at : days.indexOf(last)) - 1;
  }
  return 0;
}

/**
 * The cheapest mix that is there within so many days, for each number of days at which it changes; the quote's stands last.
 * The first days are left out. `left`: so many of the others were not worked to the end.
 */
export function byDay(pool: Pool, leftOut: number): { points: Within[]; left: number } {
  const { plan } = pool.quote();
  const days = daysOf(pool);
  const points: Within[] = [];
  let left = 0;
  for (const [at, day] of days.entries()) {
    if (at < leftOut) continue;
    const { mix, isNone } = pool.answer({ ...pool.asked(), days: day });
    const isOwn = at === days.length - 1;
    if (!isOwn && !isNone && mix?.proven !== true) left++;
    if (!mix || !isSaid(mix, plan)) continue;
    const sooner = points.at(-1)?.mix;
    // As good and sooner; the quote's own stays.
    if (sooner && !isOwn && isAlike(sooner, mix)) continue;
    points.push({ leadDays: latestIn(mix.plan, pool.leads) ?? days[0]!, mix });
  }
  return { points, left };
}

/** The days by which something may be there, to that of the quote; none where nothing of it has lead days. */
function daysOf(pool: Pool): number[] {
  const last = latestIn(pool.quote().plan, pool.leads);
  const days = [...new Set(pool.leads.flatMap((lead) => lead ?? []))].sort((a, b) => a - b);
  return last === undefined ? [] : days.filter((day) => day <= last);
}

function isAlike(a: Mix, b: Mix): boolean {
  return a.cost === b.cost && a.plan.unmet.length === b.plan.unmet.length;
}
