import { sharesOf } from '../sourcing/pricing.ts';
import type { Plan, Problem } from '../sourcing/problem.ts';
import { toMinor } from '../units/money.ts';

/** What a plan comes to as it is paid, minor units: each supplier's total rounded once. */
export function paidFor(problem: Problem, plan: Plan): bigint {
  return sharesOf(problem, plan).reduce(
    (sum, share) => sum + toMinor(share.goods + share.postage + share.handling),
    0n,
  );
}
