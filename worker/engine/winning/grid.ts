import { MINOR_UNIT, type Exact } from '../units/money.ts';

/** Prices that are looked at: whole minor units. */
export const above = (price: Exact): Exact => (price / MINOR_UNIT + 1n) * MINOR_UNIT;
export const atMost = (price: Exact): Exact => (price / MINOR_UNIT) * MINOR_UNIT;

/** Between the two, and neither, where there is one. */
export const middle = (low: Exact, high: Exact): Exact => {
  const half = atMost((low + high) / 2n);
  return half > low ? half : above(low);
};
