import { Decimal } from 'decimal.js';
import type { Job } from '../../../worker/engine/model/job.ts';
import { parsedJob } from '../requirements.ts';
import { DECIMALS, type Currency } from './themes/make.ts';

export interface Repricing {
  /** All amounts are so many times larger; a whole number, so that thresholds stay whole minor units. */
  times: number;
  /** Then each price of an offer is lower by one in this decimal beyond the minor unit: thresholds are missed by a hair. */
  hairDecimal: 2 | 4;
}

/** The same job at other prices. Free things stay free. */
export function repriced(job: Job, { times, hairDecimal }: Repricing): Job {
  const hair = new Decimal(10).pow(-(DECIMALS[job.club.currency as Currency] + hairDecimal));
  const copy = structuredClone(job);
  const change = (money: { amount: string }, less: Decimal) => {
    const amount = new Decimal(money.amount).mul(times);
    money.amount = (amount.gt(less) ? amount.minus(less) : amount).toFixed();
  };
  for (const offer of copy.offers) change('packPrice' in offer ? offer.packPrice : offer.pricePerMetre, hair);
  for (const supplier of copy.suppliers)
    if (supplier.postage?.by === 'value')
      for (const band of supplier.postage.bands)
        for (const money of [band.fromValue, band.charge]) change(money, new Decimal(0));
  return parsedJob(copy);
}
