import { Cancelled, within, type Control } from '../model/control.ts';
import { Living } from '../sourcing/search/living.ts';
import { forcedBounds, type ForcedBounds } from '../sourcing/solve/forced.ts';
import { BeyondSolver } from '../solver/milp.ts';
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
 * before it have left, and what is unfinished then once more. Throws Cancelled.
 */
export async function besideOf(pool: Pool, seconds: number, control: Control): Promise<Beside> {
  const all = within(control, seconds * 1000);
  const living = await Living.of(pool.problem, all, true).catch(orNone);
  try {
    return await besideBy(living, pool, all);
  } finally {
    living?.dispose();
  }
}

/** What the search cannot hold is worked without what is kept of it. */
function orNone(error: unknown): undefined {
  if (!(error instanceof BeyondSolver)) throw error;
}

/** What was not worked to its end in its share of the time is worked again in what the others have left, so often in all. */
const MOST_PASSES = 3;

async function besideBy(living: Living | undefined, pool: Pool, all: Control): Promise<Beside> {
  const stage = (partsLeft: number, what: string): Control => {
    if (all.cancelled()) throw new Cancelled();
    all.report({ phase: 'beside', message: `Looking for close alternatives: ${what}.` });
    return within(all, all.remainingMs() / partsLeft);
  };
  let forced: ForcedBounds | undefined;
  for (;;) {
    const known = stage(5, 'the lowest cost with each offer');
    if (!forced && !isOver(known)) {
      forced = forcedBounds(pool.problem, pool.quote(), living, known);
      learnForced(pool, forced.suppliers);
    }
    let daysLeft = 0;
    for (let pass = 0; pass < MOST_PASSES; pass++) {
      await workOtherSet(pool, stage(4, 'other suppliers'), living);
      await workBySuppliers(pool, stage(3, 'fewer suppliers'), living);
      daysLeft = await workByDay(pool, stage(2, 'earlier arrival'), living);
      const left = otherSet(pool).left + bySuppliers(pool).left + byDay(pool, daysLeft).left;
      if (left === 0 || isOver(all)) break;
    }
    const quoted = pool.quote();
    const elsewhere = await elsewhereOf(quoted, stage(1, 'each line from other suppliers'));
    for (const line of elsewhere) if ('plan' in line) pool.add(line.plan);
    // Costs fall each time, so this ends.
    if (pool.quote().plan !== quoted.plan) continue;
    return found(pool, { forced, daysLeft, elsewhere });
  }
}

function found(
  pool: Pool,
  {
    forced,
    daysLeft,
    elsewhere,
  }: { forced: ForcedBounds | undefined; daysLeft: number; elsewhere: Elsewhere[] },
): Beside {
  const few = bySuppliers(pool);
  const soon = byDay(pool, daysLeft);
  const other = otherSet(pool);
  const falls = fallsOf(pool.quote(), forced ?? { least: [] });
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
