import { Cancelled, within, type Control } from '../model/control.ts';
import { forcedBounds } from '../sourcing/solve/forced.ts';
import type { Exact } from '../units/money.ts';
import { byDay, workByDay, type Within } from './byDay.ts';
import { bySuppliers, workBySuppliers, type AtMost } from './bySuppliers.ts';
import { elsewhereOf, type Elsewhere } from './elsewhere.ts';
import { fallsOf, type Fall } from './falls.ts';
import { setOf, type Mix } from './mix.ts';
import { learnForced, otherSet, workOtherSet } from './otherSet.ts';
import type { Pool } from './pool.ts';
import { isOver } from './time.ts';

/** What lies beside a quote's mix, in the problem's terms. */
export interface Beside {
  bySuppliers: AtMost[];
  byDay: Within[];
  otherSet: Mix | undefined;
  elsewhere: Elsewhere[];
  falls: Fall[];
  /** So many of a part were not worked to the end. */
  unfinished: { part: Part; left: number; why: 'time' | 'number' }[];
}

export type Part = 'bySuppliers' | 'byDay' | 'otherSet' | 'elsewhere' | 'falls';

/** Whether anything lies beside a quote: something is bought. */
export function hasBeside(pool: Pool): boolean {
  return setOf(pool.problem, pool.quote().plan).length > 0;
}

/**
 * Works what lies beside the quote of a pool, for so many seconds at the most and no longer than the control has. All looks
 * put their mixes into the pool; where one of these is better than the quote that was not proven, it is the quote from then
 * on, and what lies beside it is worked in the time that is left. Each part has an even share of the time that the parts
 * before it have left. Throws Cancelled.
 */
export async function besideOf(pool: Pool, seconds: number, control: Control): Promise<Beside> {
  const all = within(control, seconds * 1000);
  const stage = (partsLeft: number, what: string): Control => {
    if (control.cancelled()) throw new Cancelled();
    control.report({ phase: 'beside', message: `Looking beside the cheapest mix: ${what}.` });
    return within(all, all.remainingMs() / partsLeft);
  };
  let forced: Exact[] | undefined;
  for (;;) {
    await workBySuppliers(pool, stage(5, 'fewer suppliers'));
    const daysLeft = await workByDay(pool, stage(4, 'sooner there'));
    const known = stage(4, 'what each offer costs at the least');
    if (!forced && !isOver(known)) {
      forced = await forcedBounds(pool.problem, pool.quote(), known);
      learnForced(pool, forced);
    }
    await workOtherSet(pool, stage(2, 'other suppliers'));
    const quoted = pool.quote();
    const elsewhere = await elsewhereOf(quoted, stage(1, 'each line elsewhere'));
    for (const line of elsewhere) if ('plan' in line) pool.add(line.plan);
    // Costs fall each time, so this ends.
    if (pool.quote().plan !== quoted.plan) continue;
    return found(pool, { forced, daysLeft, elsewhere });
  }
}

function found(
  pool: Pool,
  { forced, daysLeft, elsewhere }: { forced: Exact[] | undefined; daysLeft: number; elsewhere: Elsewhere[] },
): Beside {
  const few = bySuppliers(pool);
  const soon = byDay(pool, daysLeft);
  const other = otherSet(pool);
  const falls = fallsOf(pool.quote(), forced ?? []);
  const left = (part: Part, count: number, why: 'time' | 'number' = 'time') =>
    count > 0 ? [{ part, left: count, why }] : [];
  return {
    bySuppliers: few.points,
    byDay: soon.points,
    otherSet: other.mix,
    elsewhere,
    falls: forced ? falls : [],
    unfinished: [
      ...left('bySuppliers', few.left),
      ...left('byDay', soon.left),
      ...left('byDay', daysLeft, 'number'),
      ...left('otherSet', other.left),
      ...left('elsewhere', elsewhere.filter((line) => 'why' in line && line.why === 'notWorked').length),
      ...left('falls', forced ? 0 : falls.length),
    ],
  };
}
