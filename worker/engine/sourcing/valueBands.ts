import type { Exact } from '../units/money.ts';
import { gcd } from './pricing.ts';
import type { Band } from './problem.ts';

/** A band in whole multiples of the supplier's grain: goods of `lower` up to and including `upper` pay the charge. */
export interface WholeBand {
  lower: bigint;
  upper: bigint;
  charge: Exact;
  /** Charges less than a band before it: a reason to buy more than is needed. */
  cheaper: boolean;
}

/** Charges by value, in grains: the greatest amount of which each of the supplier's prices is a whole multiple. */
export interface WholeBands {
  grain: Exact;
  bands: WholeBand[];
}

/**
 * A supplier's bands as whole numbers, so that "below the threshold" is exact: goods are whole multiples of the grain,
 * so a band ends at the last multiple below the next band's start. Bands that no goods can reach are left out, and
 * neighbours with one charge are one band.
 */
export function wholeBands(bands: readonly Band[], prices: readonly Exact[], mostGoods: Exact): WholeBands {
  const grain = prices.reduce(gcd, 0n) || 1n;
  const most = mostGoods / grain;
  const merged = bands.filter((band, index) => index === 0 || band.charge !== bands[index - 1]?.charge);
  const whole = merged.map((band, index) => {
    const next = merged[index + 1];
    const end = next ? ceilDiv(next.from, grain) - 1n : most;
    return {
      lower: ceilDiv(band.from, grain),
      upper: end < most ? end : most,
      charge: band.charge,
      cheaper: merged.slice(0, index).some((before) => before.charge > band.charge),
    };
  });
  const reachable = whole.filter((band) => band.lower <= band.upper);
  return {
    grain,
    bands: reachable.length > 0 ? reachable : [{ lower: 0n, upper: most, charge: 0n, cheaper: false }],
  };
}

function ceilDiv(value: bigint, by: bigint): bigint {
  return (value + by - 1n) / by;
}

/** The last start of a band that charges less than one before it: what it can pay to buy up to. */
export function lastDrop(bands: readonly Band[]): Exact | undefined {
  let dearest = 0n;
  let drop: Exact | undefined;
  for (const band of bands) {
    if (band.charge < dearest) drop = band.from;
    if (band.charge > dearest) dearest = band.charge;
  }
  return drop;
}

/** By how much the charge falls at the most from one band to a later one: what reaching a threshold can save. */
export function mostSaved(bands: readonly Band[]): Exact {
  let dearest = 0n;
  let saved = 0n;
  for (const { charge } of bands) {
    if (charge > dearest) dearest = charge;
    if (dearest - charge > saved) saved = dearest - charge;
  }
  return saved;
}

/**
 * Most units of a choice that any cheapest plan buys. What covers its demand alone is enough, unless buying up to a
 * threshold pays: then no further than what reaches it alone, and for no more money than the lower charge saves.
 */
export function mostUnits(alone: number, price: Exact, bands: readonly Band[]): number {
  const threshold = lastDrop(bands);
  if (threshold === undefined || price === 0n) return alone;
  const reaches = Number(ceilDiv(threshold, price));
  const pays = alone + Number(mostSaved(bands) / price);
  return Math.max(alone, Math.min(reaches, pays));
}
