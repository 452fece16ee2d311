import type { Beside as Found } from '../beside/beside.ts';
import { leadsOf } from '../beside/leads.ts';
import { sellerOf, setOf, type Mix as Other } from '../beside/mix.ts';
import type { Beside } from '../model/beside.ts';
import type { Offer } from '../model/offer.ts';
import { paidFor } from '../sourcing/problem/pricing.ts';
import { plusDays } from '../units/day.ts';
import { currencyExponent } from '../units/currency.ts';
import { D } from '../units/decimal.ts';
import { exactToAmount, minorToAmount, PRICE_DECIMALS } from '../units/money.ts';
import type { Bought, Mix } from './purchases.ts';

/** What lies beside the mix as the result has it; lines in the order of the purchases. */
export function besideIn(mix: Mix, bought: readonly Bought[], found: Found): Beside {
  const { job, problem, plan } = mix;
  const { currency } = job.club;
  const money = (minor: bigint) => ({ amount: minorToAmount(minor, currency), currency });
  const exact = (amount: bigint) => ({ amount: exactToAmount(amount, currency, problem.scale), currency });
  const paid = paidFor(problem, plan);
  const mixOf = ({ plan: other, cost, bound, proven }: Other) => ({
    suppliers: setOf(problem, other),
    unmet: other.unmet.length,
    total: money(paidFor(problem, other)),
    more: money(paidFor(problem, other) - paid),
    cost: exact(cost),
    bound: exact(bound),
    proven,
  });
  const leads = leadsOf(job, problem);
  const unknownIn = ({ units }: Other['plan']) =>
    problem.choices.filter(
      ({ wave }, at) =>
        wave === 1 && (units[at] ?? 0) > 0 && sellerOf(problem, at) !== undefined && leads[at] === undefined,
    ).length;
  const places = new Map(bought.map(({ purchase }, at) => [keyOf(purchase), at]));
  const elsewhere = found.elsewhere
    .flatMap(({ line, ...there }) => {
      const choice = problem.choices[line];
      const at = choice && (places.get(keyOf(choice)) ?? places.get(choice.offer));
      const purchase = at === undefined ? undefined : bought[at]?.purchase;
      return at === undefined || !purchase ? [] : [{ at, purchase, there }];
    })
    .sort((a, b) => a.at - b.at)
    .map(({ purchase: { requirement, offer, supplier, wave }, there }): Beside['elsewhere'][number] => {
      const line = { requirement, offer, supplier, ...(wave === undefined ? {} : { wave }) };
      if ('why' in there) return { ...line, from: [], why: there.why };
      const total = paidFor(problem, there.plan);
      const from = there.from.flatMap((choice) => {
        const seller = sellerOf(problem, choice);
        return seller === undefined
          ? []
          : [{ offer: problem.choices[choice]?.offer ?? '', supplier: seller }];
      });
      return { ...line, from, total: money(total), more: money(total - paid) };
    });
  const offers = new Map(job.offers.map((offer) => [offer.code, offer]));
  // A bound of nothing says nothing.
  const known = found.falls.filter(({ millionths }) => millionths > 0);
  return {
    bySuppliers: found.bySuppliers.map(({ atMost, mix: other }) => ({ atMost, ...mixOf(other) })),
    byDay: found.byDay.map(({ leadDays, mix: other }) => ({
      day: plusDays(job.asOf, leadDays),
      leadDays,
      leadUnknown: unknownIn(other.plan),
      ...mixOf(other),
    })),
    ...(found.otherSet ? { otherSet: mixOf(found.otherSet) } : {}),
    elsewhere,
    falls: known.flatMap(({ offer: code, supplier, millionths, never }) => {
      const offer = offers.get(code);
      if (!offer) return [];
      const price = firstPriceOf(offer);
      const fallPercent = new D(millionths).div(10_000).toNumber();
      return [{ offer: code, supplier, fallPercent, price, priceAtMost: fallen(price, millionths), never }];
    }),
    ...(known.length < found.falls.length ? { fallsUnknown: found.falls.length - known.length } : {}),
    unfinished: found.unfinished,
  };
}

function keyOf({ offer, wave }: { offer: string; wave?: number | undefined }): string {
  return wave === undefined ? offer : `${wave} ${offer}`;
}

function firstPriceOf(offer: Offer) {
  return offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice;
}

/** The price after the fall, up to what a price may carry: the fall is never stated too high. */
function fallen({ amount, currency }: { amount: string; currency: string }, millionths: number) {
  const exponent = currencyExponent(currency) ?? 0;
  const left = new D(amount)
    .mul(1_000_000 - millionths)
    .div(1_000_000)
    .toDecimalPlaces(exponent + PRICE_DECIMALS, D.ROUND_UP);
  return {
    amount: left.decimalPlaces() <= exponent ? left.toFixed(exponent) : left.toFixed(),
    currency,
  };
}
