import type { Control } from '../model/control.ts';
import type { Plan } from '../sourcing/problem.ts';
import { restricted } from '../sourcing/restricted.ts';
import { cheapest, insistedIn, isWorse, meetsSome, mixOf, type Mix, type Quoted } from './mix.ts';
import { isOver, sliceOf } from './time.ts';

/** The cheapest mix of which the first order is there within so many days. */
export interface Within {
  leadDays: number;
  mix: Mix;
}

/** So many days are worked at the most, that of the quote among them. */
const MOST_DAYS = 12;

/**
 * The cheapest mix that is there within so many days, for each number of days at which it changes; the quote's stands last.
 * `leads`: by choice, the days that what comes with the first order takes; undefined of all else and where they are not
 * known: that is taken to be there in time, as with `neededBy`. Worked from the quote's day downwards: what is there
 * before that day, the cheapest of it, and its own last day; and so on, so that each solve gives a change. `time`, `number`:
 * so many days were not worked, for want of time or because there are too many. Throws Cancelled.
 */
export async function byDay(
  quoted: Quoted,
  leads: readonly (number | undefined)[],
  control: Control,
): Promise<{ points: Within[]; time: number; number: number }> {
  const { problem, plan } = quoted;
  const days = [...new Set(leads.flatMap((lead) => lead ?? []))].sort((a, b) => a - b);
  const before = (day: number) => days.findLast((other) => other < day);
  const last = latestIn(plan, leads);
  if (last === undefined) return { points: [], time: 0, number: 0 };
  const asked = { ...problem, insistOn: insistedIn(quoted) };
  const points: Within[] = [{ leadDays: last, mix: mixOf(problem, quoted) }];
  let time = 0;
  let by = before(last);
  while (by !== undefined) {
    const day = by;
    const earlier = days.filter((other) => other <= day).length;
    if (isOver(control)) return { points: falling(points), time: time + earlier, number: 0 };
    if (points.length >= MOST_DAYS) return { points: falling(points), time, number: earlier };
    const late = new Set(problem.choices.filter((_, at) => (leads[at] ?? 0) > day));
    const there = restricted(asked, (choice) => !late.has(choice));
    const mix = await cheapest(there, quoted, sliceOf(control, earlier));
    if (!mix.proven) time++;
    const isNone = mix.plan.without.length > 0 || !meetsSome(problem, mix.plan);
    // What cannot be had by this day cannot be by an earlier one.
    if (mix.proven && isNone) break;
    const leadDays = latestIn(mix.plan, leads) ?? days[0] ?? day;
    // Where time ended first more may go unmet than must.
    if (mix.proven || (!isNone && !isWorse(mix.plan, plan))) {
      const later = points.at(-1);
      // As cheap and sooner; the quote's own stays.
      if (points.length > 1 && later && isAlike(later.mix, mix)) points.pop();
      points.push({ leadDays, mix });
    }
    by = before(mix.proven ? leadDays : day);
  }
  return { points: falling(points), time, number: 0 };
}

/** The last day on which something comes with the first order, as far as it is known. */
function latestIn({ units }: Plan, leads: readonly (number | undefined)[]): number | undefined {
  return leads.reduce<number | undefined>(
    (last, lead, at) => (lead !== undefined && (units[at] ?? 0) > 0 ? Math.max(last ?? lead, lead) : last),
    undefined,
  );
}

function isAlike(a: Mix, b: Mix): boolean {
  return a.cost === b.cost && !isWorse(a.plan, b.plan) && !isWorse(b.plan, a.plan);
}

/** By day; where time ended first a mix may cost more than one that is there sooner: it is none to choose. */
function falling(points: readonly Within[]): Within[] {
  const list: Within[] = [];
  for (const point of [...points].reverse()) {
    const sooner = list.at(-1)?.mix;
    const isDearer =
      sooner !== undefined &&
      !isWorse(sooner.plan, point.mix.plan) &&
      (isWorse(point.mix.plan, sooner.plan) || point.mix.cost > sooner.cost);
    if (!isDearer) list.push(point);
  }
  return list;
}
