import { Cancelled, within, type Control } from '../model/control.ts';
import type { Job } from '../model/job.ts';
import { forcedBounds } from '../sourcing/forced.ts';
import { leadDaysOf } from '../job/offerRefusals.ts';
import type { Problem } from '../sourcing/problem.ts';
import { byDay, type Within } from './byDay.ts';
import { bySuppliers, type AtMost } from './bySuppliers.ts';
import { elsewhereOf, type Elsewhere } from './elsewhere.ts';
import { fallsOf, type Fall } from './falls.ts';
import { setOf, type Mix, type Quoted } from './mix.ts';
import { otherSet } from './otherSet.ts';
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

/**
 * Works what lies beside a quote's mix, for so many seconds at the most and no longer than the control has; undefined where
 * it is not asked for or nothing is bought. Each part has an even share of the time that the parts before it have left.
 * Throws Cancelled.
 */
export async function besideOf(
  job: Job,
  quoted: Quoted,
  seconds: number,
  control: Control,
): Promise<Beside | undefined> {
  const { problem, plan } = quoted;
  if (seconds === 0 || setOf(problem, plan).length === 0) return undefined;
  const all = within(control, seconds * 1000);
  const stage = (partsLeft: number, what: string): Control => {
    if (control.cancelled()) throw new Cancelled();
    control.report({ phase: 'beside', message: `Looking beside the cheapest mix: ${what}.` });
    return within(all, all.remainingMs() / partsLeft);
  };
  const few = await bySuppliers(quoted, stage(5, 'fewer suppliers'));
  const soon = await byDay(quoted, leadsOf(job, problem), stage(4, 'sooner there'));
  const known = stage(4, 'what each offer costs at the least');
  const hasBounds = !isOver(known);
  const forced = hasBounds ? await forcedBounds(problem, quoted, known) : [];
  const other = await otherSet(quoted, forced, stage(2, 'other suppliers'));
  const elsewhere = await elsewhereOf(quoted, stage(1, 'each line elsewhere'));
  const falls = hasBounds ? fallsOf(quoted, forced) : [];
  const left = (part: Part, count: number, why: 'time' | 'number' = 'time') =>
    count > 0 ? [{ part, left: count, why }] : [];
  return {
    bySuppliers: few.points,
    byDay: soon.points,
    otherSet: other.mix,
    elsewhere,
    falls,
    unfinished: [
      ...left('bySuppliers', few.left),
      ...left('byDay', soon.time),
      ...left('byDay', soon.number, 'number'),
      ...left('otherSet', other.left),
      ...left('elsewhere', elsewhere.filter((line) => 'why' in line && line.why === 'notWorked').length),
      ...left('falls', hasBounds ? 0 : fallsOf(quoted, []).length),
    ],
  };
}

/** By choice, how many days what comes with the first order takes, where that is known. */
export function leadsOf({ offers, suppliers }: Job, { choices }: Problem): (number | undefined)[] {
  const sellers = new Map(suppliers.map((supplier) => [supplier.code, supplier]));
  const leads = new Map(
    offers.map((offer) => {
      const seller = sellers.get(offer.supplier);
      return [offer.code, seller && leadDaysOf(offer, seller)];
    }),
  );
  return choices.map(({ offer, wave }) => (wave === 1 ? leads.get(offer) : undefined));
}
