import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { dayNumber } from '../units/day.ts';
import { priceSlips } from './priceSlips.ts';
import type { Bought, Mix } from './purchases.ts';

/** What is to be looked at before an order is sent: prices that were seen long ago, and prices that look like a slip. */
export function orderChecks(mix: Mix, bought: readonly Bought[], priceAgeDays: number): Finding[] {
  const { job, sourced } = mix;
  return [
    ...oldPrices(job, bought, priceAgeDays),
    ...priceSlips(job, {
      needed: new Set(sourced.flatMap(({ parts }) => [...parts.keys()])),
      bought: new Set(bought.map(({ offer }) => offer.code)),
    }),
  ];
}

function oldPrices(job: Job, bought: readonly Bought[], priceAgeDays: number): Finding[] {
  const offerAt = new Map(job.offers.map(({ code }, index) => [code, index]));
  const today = dayNumber(job.asOf);
  return bought.flatMap(({ offer }): Finding[] => {
    if (offer.seenOn === undefined) return [];
    const age = today - dayNumber(offer.seenOn);
    if (age <= priceAgeDays) return [];
    return [
      {
        code: 'price-may-be-old',
        severity: 'warning',
        at: pointer(['offers', offerAt.get(offer.code) ?? 0, 'seenOn']),
        where: `offer ${offer.code} of ${offer.supplier}`,
        found: `its price was seen on ${offer.seenOn}, ${age} days ago`,
        limit: `at most ${priceAgeDays} days (the setting priceAgeDays)`,
        todo: 'Check the price again before you order.',
      },
    ];
  });
}
