import type { Control } from '../model/control.ts';
import type { Job } from '../model/job.ts';
import type { Comparison } from '../model/result.ts';
import { cheapestSinglePrices } from '../sourcing/greedy.ts';
import { bestShop } from '../sourcing/oneShop.ts';
import { paidFor, suppliersIn } from '../sourcing/pricing.ts';
import { isActive, type Plan, type Problem } from '../sourcing/problem.ts';
import { minorToAmount } from '../units/money.ts';

/** What other ways of buying the same would cost, and what the plan saves against them. Throws Cancelled. */
export async function comparisonsOf(
  job: Job,
  problem: Problem,
  plan: Plan,
  control: Control,
): Promise<Comparison[]> {
  if (problem.demands.every((demand, index) => !isActive(demand, plan.options) || plan.unmet.includes(index)))
    return [];
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const paid = paidFor(problem, plan);
  const comparisons: Comparison[] = [];
  const single = cheapestSinglePrices(problem);
  if (single) {
    const total = paidFor(problem, single);
    comparisons.push({
      kind: 'cheapestSinglePrices',
      label: 'Each line at its cheapest single price, postage added',
      total: money(total),
      saving: money(total - paid),
      suppliers: suppliersIn(problem, single).size,
      unsourced: 0,
    });
  }
  const shop = await bestShop(problem, plan, control);
  if (shop) {
    const name = job.suppliers.find(({ code }) => code === shop.supplier)?.name ?? shop.supplier;
    comparisons.push({
      kind: 'oneShop',
      label: `All from one shop, ${name}${shop.unsourced === 0 ? '' : `, without the ${shop.unsourced} that it cannot supply`}`,
      supplier: shop.supplier,
      total: money(shop.paid),
      saving: money(shop.paid - paid),
      suppliers: 1,
      unsourced: shop.unsourced,
    });
  }
  return comparisons;
}
