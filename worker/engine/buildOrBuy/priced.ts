import { latestIn } from '../beside/pool.ts';
import { leadsOf } from '../beside/leads.ts';
import type { Job } from '../model/job.ts';
import type { Ordered } from '../order.ts';
import { costOf } from '../sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../sourcing/problem/problem.ts';
import type { Solved } from '../sourcing/solve/solve.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { ceilOf, fraction, minus, plus, sumOf, times, type Fraction } from '../units/fraction.ts';
import { MINOR_UNIT, type Exact } from '../units/money.ts';
import type { Bought } from './combinations.ts';
import type { ToolCost } from './toolCosts.ts';

/** What a combination of built and bought looms comes to, in minor units of the club's currency, unrounded. */
export interface Priced {
  bought: Bought;
  /** By the names of made looms. */
  built: readonly string[];
  state: 'proven' | 'bestSoFar' | 'ruledOut' | 'notWorked' | 'impossible';
  minutes: Fraction;
  labour: Fraction;
  /** The cheapest mix that was found. */
  mix?: Found;
  /** No way to buy for it has a lower total. */
  bound: Fraction;
}

/** A mix of a combination. */
export interface Found {
  sourcing: Sourcing;
  ordered: Ordered;
  tools: readonly ToolCost[];
  total: Fraction;
  /** Suppliers insisted on from whom nothing comes; needs that are sold and not bought; needs that nobody sells. */
  without: number;
  leftOut: number;
  unsourced: number;
  leadDays: number | undefined;
  leadUnknown: number;
}

/** What stands of a combination before anything is bought for it. */
export interface Fixed {
  minutes: Fraction;
  labour: Fraction;
  /** Tools and consumables that the request adds. */
  extras: readonly ToolCost[];
  /** What the delivered cost counts at the least: 1, or a share of it where all may be shared tools. */
  share: Fraction;
  /** The most that tools may sell for afterwards. */
  resale: Fraction;
}

/** No total is lower where the delivered cost is not. */
export function leastTotal(delivered: Fraction, { labour, extras, share, resale }: Fixed): Fraction {
  const goods = minus(times(delivered, share), resale);
  const least = goods.over < 0n ? fraction(0n) : goods;
  return sumOf([least, labour, ...extras.map(({ counted }) => counted)]);
}

/** Mixes of this cost or more have no total below the limit. */
export function underFor(
  limit: Fraction,
  { labour, extras, share, resale }: Fixed,
  { scale }: Problem,
): Exact {
  const left = minus(limit, sumOf([labour, ...extras.map(({ counted }) => counted)]));
  if (left.over <= 0n) return 0n;
  const delivered = times(plus(left, resale), fraction(share.under, share.over));
  return ceilOf(times(delivered, fraction(MINOR_UNIT * scale)));
}

/** An exact cost in minor units. */
function inMinor(exact: Exact, { scale }: Pick<Problem, 'scale'>): Fraction {
  return fraction(exact, MINOR_UNIT * scale);
}

/** What was found of a combination. */
export function foundIn(
  job: Job,
  ordered: Ordered,
  sourcing: Sourcing,
  { labour, extras }: Fixed,
  toolsIn: (plan: Plan, sourcing: Sourcing, ordered: Ordered) => readonly ToolCost[],
): Found {
  const { problem, plan, unsourced } = sourcing;
  const tools = [...toolsIn(plan, sourcing, ordered), ...extras];
  const counted = tools.map(({ paid, counted, isExtra }) => (isExtra ? counted : minus(counted, paid)));
  const served = new Set(problem.requirements.flatMap(({ id, choices }) => (choices.length > 0 ? [id] : [])));
  const leftOut = new Set(
    plan.unmet.flatMap((index) => {
      const id = problem.requirements[index]?.id ?? '';
      return served.has(id) ? [id] : [];
    }),
  ).size;
  const leads = leadsOf(job, problem);
  return {
    sourcing,
    ordered,
    tools,
    total: sumOf([inMinor(costOf(problem, plan), problem), labour, ...counted]),
    without: plan.without.length,
    leftOut,
    unsourced: unsourced.length - leftOut,
    leadDays: latestIn(plan, leads),
    leadUnknown: problem.choices.filter(
      ({ wave }, index) => wave === 1 && (plan.units[index] ?? 0) > 0 && leads[index] === undefined,
    ).length,
  };
}

/** How far a combination was worked: `limit` is the total that its mixes had to be below. */
export function stateOf(
  found: Found,
  bought: Bought,
  bound: Fraction,
  limit: Fraction | undefined,
): Priced['state'] {
  const { sourcing } = found;
  const { solved } = sourcing;
  const missing = new Set(sourcing.unsourced.map(({ requirement }) => requirement));
  const isProven = solved?.proven ?? true;
  if (bought.some(({ part }) => missing.has(`part:${part}`)))
    return isProven || solved?.stoppedBy === undefined ? 'impossible' : 'notWorked';
  if (isProven) return 'proven';
  return limit !== undefined && isNotBelow(bound, limit) ? 'ruledOut' : 'bestSoFar';
}

/** As good as not below it: by less than half a minor unit. */
export function isNotBelow(bound: Fraction, limit: Fraction): boolean {
  const short = minus(limit, bound);
  return short.over * 2n < short.under;
}

/** The bound of what was solved. */
export function boundOf(solved: Solved | undefined, found: Found, fixed: Fixed): Fraction {
  if (!solved || solved.proven) return found.total;
  return leastTotal(inMinor(solved.bound, found.sourcing.problem), fixed);
}
