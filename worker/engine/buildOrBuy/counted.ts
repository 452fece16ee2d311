import type { Market } from '../job/market.ts';
import type { Job } from '../model/job.ts';
import type { Ordered } from '../order.ts';
import type { Plan } from '../sourcing/problem/problem.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { fraction, sumOf, times, type Fraction } from '../units/fraction.ts';
import type { Fixed } from './priced.ts';
import { boughtTools, extraCosts, inClub, type ToolCost } from './toolCosts.ts';

/** What counts beside what is paid to suppliers. */
export interface Counted {
  /** Minor units of the club's currency. */
  hourWorth: Fraction;
  /** Minutes of building one kind of loom, all of them, by the name of the made loom. */
  minutes: ReadonlyMap<string, Fraction>;
  /** Where looms of these names are built. */
  fixed(built: readonly string[]): Fixed;
  tools(plan: Plan, sourcing: Sourcing, ordered: Ordered): ToolCost[];
}

export function countedFor(job: Job, _market: Market): Counted {
  const { hourWorth: worth, tools = [] } = job.request.buildOrBuy ?? {};
  const hourWorth = inClub(job, worth);
  const minutes = new Map<string, Fraction>();
  const extras = extraCosts(job);
  const most = tools.reduce((most, { sharedOver = 1 }) => Math.max(most, sharedOver), 1);
  const resale = sumOf(tools.map(({ sellsFor }) => inClub(job, sellsFor)));
  return {
    hourWorth,
    minutes,
    fixed: (built) => {
      const own = sumOf(built.map((name) => minutes.get(name) ?? fraction(0n)));
      return {
        minutes: own,
        labour: times(times(own, fraction(1n, 60n)), hourWorth),
        extras: built.length > 0 ? extras : [],
        share: fraction(1n, BigInt(most)),
        resale,
      };
    },
    tools: (plan, sourcing, ordered) => boughtTools(job, plan, sourcing, ordered),
  };
}
