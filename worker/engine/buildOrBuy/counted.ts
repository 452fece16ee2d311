import { labourOfJob } from '../labour/labour.ts';
import type { LoomLabour } from '../model/buildOrBuy.ts';
import type { Job } from '../model/job.ts';
import type { Ordered } from '../order.ts';
import type { Plan } from '../sourcing/problem/problem.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { fraction, fractionOf, sumOf, times, type Fraction } from '../units/fraction.ts';
import type { Fixed } from './priced.ts';
import { boughtTools, extraCosts, inClub, type ToolCost } from './toolCosts.ts';

/** What counts beside what is paid to suppliers. */
export interface Counted {
  /** Minor units of the club's currency. */
  hourWorth: Fraction;
  labour: readonly LoomLabour[];
  /** Where looms of these names are built, and the others are bought made. */
  fixed(built: readonly string[]): Fixed;
  tools(plan: Plan, sourcing: Sourcing, ordered: Ordered): ToolCost[];
}

export function countedFor(job: Job): Counted {
  const { hourWorth: worth, tools = [] } = job.request.buildOrBuy ?? {};
  const hourWorth = inClub(job, worth);
  const labour = labourOfJob(job);
  const extras = extraCosts(job);
  const most = tools.reduce((most, { sharedOver = 1 }) => Math.max(most, sharedOver), 1);
  const resale = sumOf(tools.map(({ sellsFor }) => inClub(job, sellsFor)));
  return {
    hourWorth,
    labour,
    fixed: (built) => {
      const minutes = sumOf(
        labour.map((one) => fractionOf(built.includes(one.loom) ? one.minutes : one.minutesIfBought)),
      );
      return {
        minutes,
        labour: times(times(minutes, fraction(1n, 60n)), hourWorth),
        extras: built.length > 0 ? extras : [],
        share: fraction(1n, BigInt(most)),
        resale,
      };
    },
    tools: (plan, sourcing, ordered) => boughtTools(job, plan, sourcing, ordered),
  };
}
