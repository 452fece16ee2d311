import type { Comparison } from '../model/result.ts';
import { sharesOf, suppliersIn } from '../sourcing/pricing.ts';
import type { Plan, Problem } from '../sourcing/problem.ts';
import { minorToAmount, toMinor } from '../units/money.ts';

/** What a plan comes to as it is paid, minor units: each supplier's total rounded once. */
export function paidFor(problem: Problem, plan: Plan): bigint {
  return sharesOf(problem, plan).reduce((sum, share) => sum + toMinor(share.goods + share.postage), 0n);
}

/** What the same would cost with each line bought at its cheapest single price. */
export function againstSinglePrices(
  problem: Problem,
  plan: Plan,
  single: Plan,
  currency: string,
): Comparison {
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const total = paidFor(problem, single);
  return {
    kind: 'cheapestSinglePrices',
    label: 'Each line at its cheapest single price, postage added',
    total: money(total),
    saving: money(total - paidFor(problem, plan)),
    suppliers: suppliersIn(problem, single),
  };
}
