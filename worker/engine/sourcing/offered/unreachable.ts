import { pointer, type Finding } from '../../model/finding.ts';
import type { Job } from '../../model/job.ts';
import { exactToAmount, type Exact } from '../../units/money.ts';
import type { Draft } from './drafts.ts';
import { leastOrder } from '../problem/pricing.ts';
import type { SupplierTerms } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';

/** Suppliers whose minimum order all that they have in stock of what is needed does not reach. */
export function unreachable(
  job: Job,
  suppliers: readonly SupplierTerms[],
  drafts: readonly Draft[],
): Map<string, Finding> {
  const shut = new Map<string, Finding>();
  suppliers.forEach(({ code, bands }, at) => {
    const least = leastOrder(bands);
    if (shut.has(code) || least === 0n) return;
    const own = drafts.filter(({ choice }) => suppliers[choice.supplier]?.code === code);
    const endless = own.some(
      ({ choice }) => choice.mostUnits === undefined && choice.tiers.some(({ price }) => price > 0n),
    );
    // An offer of several orders counts once.
    const byOffer = new Map(own.map(({ choice }) => [choice.offer, choice]));
    const most = [...byOffer.values()].reduce((sum, choice) => sum + dearest(choice), 0n);
    if (endless || most >= least) return;
    const index = job.suppliers.findIndex((supplier) => supplier.code === suppliers[at]?.code);
    const currency = job.suppliers[index]?.currency ?? job.club.currency;
    shut.set(code, {
      code: 'minimum-order-out-of-reach',
      severity: 'warning',
      at: pointer(['suppliers', index, 'minimumOrder']),
      where: `supplier ${code}`,
      found: `goods of at most ${exactToAmount(most, currency)} ${currency}: all that it has of what is needed`,
      limit: `at least ${exactToAmount(least, currency)} ${currency}`,
      todo: 'Nothing is bought there. Enter more of its offers, or update their stock.',
    });
  });
  return shut;
}

/** The most that an offer with a limited stock can come to. */
function dearest(choice: Draft['choice']): Exact {
  const most = choice.mostUnits ?? 0;
  const whole = { ...choice, serves: [] };
  return choice.tiers.reduce((best, tier, index) => {
    const next = choice.tiers[index + 1];
    const units = next ? next.fromUnits - choice.step : most;
    const cost = lineCost(whole, Math.max(units, tier.fromUnits));
    return cost > best ? cost : best;
  }, 0n);
}
