import { exchangeOf } from '../model/exchange.ts';
import type { Job } from '../model/job.ts';
import type { Money } from '../model/money.ts';
import type { Ordered } from '../order.ts';
import { boughtIn } from '../quote/purchases.ts';
import { sharesOf } from '../sourcing/problem/pricing.ts';
import type { Plan } from '../sourcing/problem/problem.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { fraction, minus, NOTHING, sumOf, times, type Fraction } from '../units/fraction.ts';
import { exactFromMoney, MINOR_UNIT } from '../units/money.ts';

/** A tool or consumable with what it costs and what of that counts for these looms, minor units of the club's currency. */
export interface ToolCost {
  part?: string;
  label: string;
  paid: Fraction;
  counted: Fraction;
  /** What the request adds: it is in no delivered cost. */
  isExtra: boolean;
}

/** An amount in minor units of the club's currency; nothing where no rate is known for it. */
export function inClub(job: Job, money: Money | undefined): Fraction {
  const rate = money && exchangeOf(job).toClub(money.currency);
  return rate && money ? times(fraction(exactFromMoney(money), MINOR_UNIT), rate) : NOTHING;
}

/** Less what it sells for, then one share of so many. */
function countedOf(paid: Fraction, resale: Fraction, sharedOver = 1): Fraction {
  const left = minus(paid, resale);
  return left.over < 0n ? NOTHING : times(left, fraction(1n, BigInt(sharedOver)));
}

/** What the request adds for building. */
export function extraCosts(job: Job): ToolCost[] {
  return (job.request.buildOrBuy?.extras ?? []).map(({ description, cost, sellsFor, sharedOver }) => {
    const paid = inClub(job, cost);
    return {
      label: description,
      paid,
      counted: countedOf(paid, inClub(job, sellsFor), sharedOver),
      isExtra: true,
    };
  });
}

/** The tools of the catalogue that a mix buys and that do not count in full. */
export function boughtTools(job: Job, plan: Plan, sourcing: Sourcing, { order }: Ordered): ToolCost[] {
  const { tools = [] } = job.request.buildOrBuy ?? {};
  if (tools.length === 0) return [];
  const { problem, sourced } = sourcing;
  const shares = sharesOf(problem, plan);
  const lines = boughtIn({ job, market: order.market, problem, plan, sourced, shares });
  return tools.flatMap(({ part, sellsFor, sharedOver }): ToolCost[] => {
    const own = lines.filter(({ purchase, offer }) => purchase.part === part && offer.form !== 'kit');
    if (own.length === 0) return [];
    const paid = sumOf(own.map(({ exact }) => fraction(exact, MINOR_UNIT * problem.scale)));
    const label = job.parts.find(({ code }) => code === part)?.description ?? part;
    return [
      { part, label, paid, counted: countedOf(paid, inClub(job, sellsFor), sharedOver), isExtra: false },
    ];
  });
}
