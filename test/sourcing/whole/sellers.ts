import type { Job } from '../../../worker/engine/model/job.ts';
import { FINE, fineOf, inClubMoney, minorOf, rateOf } from './rates.ts';
import { ONE, plus, ratio, times, ZERO, type Ratio } from './ratio.ts';
import type { Rules } from './rules.ts';
import { taxesOf } from './taxes.ts';

/** Micrograms, so that mm of a wire of so many milligrams a metre are whole. */
export const GRAM = 1_000_000;

type Supplier = Job['suppliers'][number];

/** How a supplier charges for a parcel. Goods in fine units of its currency, weights in micrograms, costs in the club's. */
export interface Seller {
  code: string;
  minimumOrder: number;
  /** Goods, carriage, tax, duty, fees and nuisance; undefined where the goods do not reach the minimum order. */
  delivered(goods: number, weight: number): Ratio | undefined;
  /** A parcel costs at least so much for each fine unit of its goods, and so much beside. */
  least: { perUnit: Ratio; once: Ratio };
  /** The value from which on more goods change nothing in carriage. */
  lastValue: number;
  /** The weight from which on no lower weight is charged more; 0 where a band never charges less than one below. */
  lastFall: number;
}

export function sellerOf(job: Job, supplier: Supplier, rules: Rules): Seller {
  const minimumOrder = rules.minimumOrder && supplier.minimumOrder ? fineOf(supplier.minimumOrder) : 0;
  const handling = rules.handling && supplier.handling ? fineOf(supplier.handling) : 0;
  const { postage, leastPostage, lastValue, lastFall } = postageOf(supplier, rules);
  const taxes = taxesOf(job, supplier, rules);
  const rate = rateOf(job, supplier.currency, rules) ?? ONE;
  const inClub = (fine: number) => times(ratio(BigInt(fine), BigInt(FINE)), rate);
  const { parcelNuisance } = job.request;
  const nuisance = parcelNuisance && rules.parcelNuisance ? inClubMoney(job, parcelNuisance, rules) : ZERO;
  const carriage = inClub(handling + leastPostage);
  return {
    code: supplier.code,
    minimumOrder,
    delivered: (goods, weight) => {
      if (goods < minimumOrder) return undefined;
      const stated = {
        goods: inClub(goods),
        postage: inClub(postage(goods, weight)),
        handling: inClub(handling),
      };
      return plus(taxes.delivered(stated), nuisance);
    },
    least: {
      perUnit: times(inClub(1), taxes.least.goods),
      once: plus(plus(times(carriage, taxes.least.carriage), taxes.least.once), nuisance),
    },
    lastValue: Math.max(minimumOrder, lastValue),
    lastFall,
  };
}

interface Postage {
  postage: (goods: number, weight: number) => number;
  leastPostage: number;
  lastValue: number;
  lastFall: number;
}

function postageOf({ postage, currency }: Supplier, rules: Rules): Postage {
  if (!postage || !rules.postage) return { postage: () => 0, leastPostage: 0, lastValue: 0, lastFall: 0 };
  const leastOf = (bands: readonly { charge: number }[]) => Math.min(...bands.map(({ charge }) => charge));
  if (postage.by === 'value') {
    const every = postage.bands.map((band) => ({
      from: fineOf(band.fromValue),
      charge: fineOf(band.charge),
    }));
    const reached = every.filter(
      (band, index) =>
        index === 0 ||
        (rules.postageByValue && (rules.freeThreshold || band.charge > 0 || index < every.length - 1)),
    );
    const minor = minorOf(currency);
    const judged = (goods: number) => {
      const value = rules.unroundedValue ? goods : Math.floor((goods + minor / 2) / minor) * minor;
      // The first band is that of everything.
      return rules.bandStart ? value : Math.max(0, value - 1);
    };
    return {
      postage: (goods) => reached.findLast(({ from }) => from <= judged(goods))?.charge ?? 0,
      leastPostage: leastOf(reached),
      lastValue: (reached.at(-1)?.from ?? 0) + (rules.bandStart ? 0 : 1),
      lastFall: 0,
    };
  }
  const every = postage.bands.map((band) => ({ from: band.fromG * GRAM, charge: fineOf(band.charge) }));
  const bands = rules.weightBands ? every : every.slice(0, 1);
  const free = rules.freeFromValue && postage.freeFromValue ? fineOf(postage.freeFromValue) : undefined;
  return {
    postage: (goods, weight) =>
      free !== undefined && goods >= free ? 0 : (bands.findLast(({ from }) => from <= weight)?.charge ?? 0),
    leastPostage: free === undefined ? leastOf(bands) : 0,
    lastValue: free ?? 0,
    lastFall: bands.findLast((band, index) => band.charge < (bands[index - 1]?.charge ?? 0))?.from ?? 0,
  };
}
