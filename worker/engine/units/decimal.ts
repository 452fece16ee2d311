import { Decimal } from 'decimal.js';

/** Decimals for lengths, percentages and printing: wide enough that sums of our inputs are exact. */
export const D = Decimal.clone({
  precision: 60,
  rounding: Decimal.ROUND_HALF_UP,
  toExpNeg: -30,
  toExpPos: 60,
});
export type D = Decimal;

/** Up to the next multiple of `step`; a value on a multiple stays. */
export function ceilToStep(value: D, step: number): number {
  return value.div(step).toDecimalPlaces(0, Decimal.ROUND_CEIL).mul(step).toNumber();
}

/** A decimal without trailing zeros, as people write it: 18.6, 674.6, 40. */
export function plain(value: D): string {
  return value.toFixed();
}

/** The smallest whole number that is not below the value. */
export function ceilWhole(value: D): number {
  return value.toDecimalPlaces(0, Decimal.ROUND_CEIL).toNumber();
}

/** Percent of a value, exact: percentOf(620, 3) is 18.6. */
export function percentOf(value: D | number, percent: number): D {
  return new D(value).mul(new D(percent)).div(100);
}

/** How many whole units cover a need: whole numbers in, the quotient rounded up. */
export function unitsToCover(need: number, unit: number): number {
  return Math.ceil(need / unit);
}

/** What percentage `part` is of `whole`, rounded up to four decimals, so that it is never stated too small; 0 of nothing. */
export function percentUp(part: bigint, whole: bigint): number {
  if (whole === 0n) return 0;
  return new D(part.toString()).mul(100).div(whole.toString()).toDecimalPlaces(4, D.ROUND_UP).toNumber();
}
