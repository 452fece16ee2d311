import type { Job } from '../../../worker/engine/model/job.ts';
import { fromDecimal, ONE, times, type Ratio } from './ratio.ts';
import type { Rules } from './rules.ts';

interface Money {
  amount: string;
  currency: string;
}

/** What a unit of a currency is worth in the club's; undefined where no rate is known. */
export function rateOf(job: Job, currency: string, rules: Rules): Ratio | undefined {
  if (currency === job.club.currency) return ONE;
  const known = job.rates
    .filter((rate) => rate.currency === currency && (!rules.rateOfDay || rate.on <= job.asOf))
    .sort((a, b) => (a.on < b.on ? -1 : 1));
  const chosen = rules.latestRate ? known.at(-1) : known[0];
  if (!rules.currencyRate) return ONE;
  return chosen && fromDecimal(chosen.rate);
}

/** In the club's currency. */
export function inClubMoney(job: Job, { amount, currency }: Money, rules: Rules): Ratio {
  const rate = rateOf(job, currency, rules);
  if (!rate) throw new RangeError(`${currency} has no rate`);
  return times(fromDecimal(amount), rate);
}

/** Whole ten-thousand-millionths of a currency's unit, as goods are counted: exact below 2^53. */
export const FINE = 10_000_000_000;

/** A currency's minor unit, in fine units, by ISO 4217. */
export const minorOf = (currency: string) => FINE / 10 ** ({ JPY: 0, KWD: 3 }[currency] ?? 2);

/** "12.345" → 123_450_000_000. Throws where it is no exact whole number. */
export function fineOf({ amount }: Money): number {
  const [whole = '', fraction = ''] = amount.split('.');
  const value = Number(whole + fraction.padEnd(10, '0'));
  if (fraction.length > 10 || !Number.isSafeInteger(value)) throw new RangeError(`${amount} is too fine`);
  return value;
}
