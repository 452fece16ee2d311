import { currencyExponent } from '../units/currency.ts';
import { fraction, fractionOf, ONE, times, type Fraction } from '../units/fraction.ts';
import type { Job } from './job.ts';
import type { Rate } from './rate.ts';

/** Leads to the club's currency. */
export interface Exchange {
  /** Exact units of the club's currency for one exact unit of another; undefined where no rate is entered for it. */
  toClub: (currency: string) => Fraction | undefined;
  /** The rate that is used; undefined for the club's own currency and for one without a rate. */
  rateOf: (currency: string) => Rate | undefined;
}

/** The rates of a job as they hold on its day: of each currency the last one entered that is not of a later day. */
export function exchangeOf({
  club,
  rates,
  asOf,
}: {
  club: Pick<Job['club'], 'currency'>;
  rates: readonly Rate[];
  asOf: string;
}): Exchange {
  const latest = new Map<string, Rate>();
  for (const rate of rates) {
    const before = latest.get(rate.currency);
    if (rate.on <= asOf && (before === undefined || before.on < rate.on)) latest.set(rate.currency, rate);
  }
  return {
    rateOf: (currency) => latest.get(currency),
    toClub: (currency) => {
      if (currency === club.currency) return ONE;
      const rate = latest.get(currency);
      return rate && times(fractionOf(rate.rate), minorUnits(currency, club.currency));
    },
  };
}

/** Between the minor units of two currencies: yen have none, so that one yen at par is a hundred pence. */
function minorUnits(from: string, to: string): Fraction {
  const shift = (currencyExponent(to) ?? 0) - (currencyExponent(from) ?? 0);
  return shift >= 0 ? fraction(10n ** BigInt(shift)) : fraction(1n, 10n ** BigInt(-shift));
}
