import { fromOneShop } from '../beside/oneShop.ts';
import { isSaid } from '../beside/bySuppliers.ts';
import { setOf } from '../beside/mix.ts';
import type { Pool } from '../beside/pool.ts';
import type { Comparison } from '../model/comparison.ts';
import type { Job } from '../model/job.ts';
import { paidFor } from '../sourcing/problem/pricing.ts';
import type { Plan } from '../sourcing/problem/problem.ts';
import { minorToAmount } from '../units/money.ts';

/**
 * What other ways of buying the same would cost, and what the quote saves against them. `single`: each line at its cheapest
 * single price. `isOpen`: what one shop costs was not worked to its end. All from one shop is the very mix that stands beside the quote as that from at most one supplier.
 */
export function comparisonsOf(
  job: Job,
  pool: Pool,
  single: Plan | undefined,
): { comparisons: Comparison[]; isOpen: boolean } {
  const { problem } = pool;
  const { plan } = pool.quote();
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const paid = paidFor(problem, plan);
  const against = (other: Plan) => {
    const total = paidFor(problem, other);
    return { total: money(total), saving: money(total - paid), unsourced: other.unmet.length };
  };
  const comparisons: Comparison[] = [];
  if (single)
    comparisons.push({
      kind: 'cheapestSinglePrices',
      label: 'Each line at its cheapest single price, postage added',
      suppliers: setOf(problem, single).length,
      ...against(single),
    });
  const { mix, isNone } = pool.answer(fromOneShop(pool));
  const [shop] = mix ? setOf(problem, mix.plan) : [];
  if (mix && shop !== undefined && isSaid(mix, plan)) {
    const name = job.suppliers.find(({ code }) => code === shop)?.name ?? shop;
    const { unmet } = mix.plan;
    const without =
      unmet.length === 0
        ? ''
        : `, without ${unmet.length} ${unmet.length === 1 ? 'need' : 'needs'} that it cannot supply`;
    const open = mix.proven ? '' : ' (the cheapest found; not proven)';
    comparisons.push({
      kind: 'oneShop',
      label: `All from one supplier, ${name}${without}${open}`,
      supplier: shop,
      suppliers: 1,
      ...against(mix.plan),
      proven: mix.proven,
    });
  }
  return { comparisons, isOpen: !isNone && mix?.proven !== true };
}
