import { gcd } from '../../units/fraction.ts';
import { gcd as gcdOf } from '../../units/gcd.ts';
import type { Exact } from '../../units/money.ts';
import type { Band } from './problem.ts';

/** A band in whole grains of value and of weight: both limits belong to it. */
export interface WholeBand {
  lower: bigint;
  upper: bigint;
  lowerWeight: number;
  upperWeight: number;
  charge: Exact;
  rate: bigint;
  /** Lies higher than one that charges more, or than nothing at all: a reason to buy more than is needed. */
  cheaper: boolean;
}

/** A supplier's bands in grains: the greatest amounts of which each of its prices and weights is a whole multiple. */
export interface WholeBands {
  grain: Exact;
  weightGrain: number;
  bands: WholeBand[];
}

/** What a supplier's goods are made of, and the most that they can come to. */
export interface Goods {
  prices: readonly Exact[];
  weights: readonly number[];
  mostValue: Exact;
  mostMicrograms: number;
}

/**
 * Bands as whole numbers, so that "below the threshold" is exact: goods are whole multiples of the grain, so a band ends
 * at the last multiple below the next one's start. Bands that no goods can reach are left out, and neighbours by value
 * with one charge are one band.
 */
export function wholeBands(
  stated: readonly Band[],
  { prices, weights, mostValue, mostMicrograms }: Goods,
): WholeBands {
  const grain = prices.reduce(gcd, 0n) || 1n;
  const weightGrain = weights.reduce(gcdOf, 0) || 1;
  const most = mostValue / grain;
  const mostWeight = Math.floor(mostMicrograms / weightGrain);
  const least = stated.reduce((from, band) => (band.from < from ? band.from : from), stated[0]?.from ?? 0n);
  const bands = merged(stated).map((band): WholeBand => {
    const end = band.below === undefined ? most : ceilDiv(band.below, grain) - 1n;
    const heaviest =
      band.belowMicrograms === undefined ? mostWeight : Math.ceil(band.belowMicrograms / weightGrain) - 1;
    return {
      lower: ceilDiv(band.from, grain),
      upper: end < most ? end : most,
      lowerWeight: Math.ceil(band.fromMicrograms / weightGrain),
      upperWeight: Math.min(heaviest, mostWeight),
      charge: band.charge,
      rate: band.rate,
      cheaper:
        least > 0n ||
        stated.some(
          (other) =>
            (other.from < band.from || other.fromMicrograms < band.fromMicrograms) &&
            chargesMore(other, band),
        ),
    };
  });
  const reachable = bands.filter((band) => band.lower <= band.upper && band.lowerWeight <= band.upperWeight);
  return { grain, weightGrain, bands: reachable };
}

type Costing = Pick<Band, 'charge' | 'rate'>;

/** Whether some goods cost more beside themselves in one band than in the other. */
function chargesMore(one: Costing, other: Costing): boolean {
  return one.charge > other.charge || one.rate > other.rate;
}

/** By value alone, a band with the charge of the one before it is one with it. */
function merged(bands: readonly Band[]): Band[] {
  const list: Band[] = [];
  for (const band of bands) {
    const last = list.at(-1);
    const plain = band.fromMicrograms === 0 && band.belowMicrograms === undefined;
    if (
      last &&
      plain &&
      last.fromMicrograms === 0 &&
      last.belowMicrograms === undefined &&
      last.charge === band.charge &&
      last.rate === band.rate
    )
      last.below = band.below;
    else list.push({ ...band });
  }
  return list;
}

export function ceilDiv(value: bigint, by: bigint): bigint {
  return (value + by - 1n) / by;
}

/** The highest value at which buying more changes to a lower charge, or makes an order possible at all. */
export function lastThreshold(bands: readonly Band[]): Exact {
  let threshold = 0n;
  for (const band of bands) {
    const pays =
      band.from > 0n &&
      (bands.every((other) => other.from >= band.from) ||
        bands.some((other) => other.from < band.from && chargesMore(other, band)));
    if (pays && band.from > threshold) threshold = band.from;
  }
  return threshold;
}

/** The greatest weight at which a heavier parcel goes for less: then it may pay to buy more for its weight. 0: none. */
export function lastFallingWeight(bands: readonly Band[]): number {
  return bands.reduce((last, band) => {
    const falls = bands.some(
      (other) => other.fromMicrograms < band.fromMicrograms && chargesMore(other, band),
    );
    return falls ? Math.max(last, band.fromMicrograms) : last;
  }, 0);
}

/**
 * What reaching a threshold can save at the most, in goods at the supplier's stated prices: by how much one band's charge
 * lies under another's, and, where the rate falls too, what it falls by on all goods up to the last threshold.
 */
export function mostSaved(bands: readonly Band[]): Exact {
  const charges = bands.map(({ charge }) => charge);
  const rates = bands.map(({ rate }) => rate);
  const spread = greatest(charges) - least(charges);
  const falls = bands.some((band) =>
    bands.some(
      (other) =>
        (other.from < band.from || other.fromMicrograms < band.fromMicrograms) && other.rate > band.rate,
    ),
  );
  const saved = spread + (falls ? (greatest(rates) - least(rates)) * lastThreshold(bands) : 0n);
  const rate = least(rates);
  return rate === 0n ? saved : ceilDiv(saved, rate);
}

const greatest = (list: readonly bigint[]) => list.reduce((a, b) => (a > b ? a : b), 0n);
const least = (list: readonly bigint[]) => list.reduce((a, b) => (a < b ? a : b), list[0] ?? 0n);
