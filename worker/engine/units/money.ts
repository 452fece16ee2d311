import { D } from './decimal.ts';
import { currencyExponent } from './currency.ts';

/**
 * Exact money: a whole number of ten-millionths of the currency's minor unit.
 * A price carries up to 4 decimals beyond the minor unit and a length is whole millimetres (thousandths of a metre),
 * so price × length is a whole number on this scale and no cost is ever rounded before it is printed.
 */
export type Exact = bigint;

export const PRICE_DECIMALS = 4;
const LENGTH_DECIMALS = 3;
const EXACT_PER_MINOR: Exact = 10n ** BigInt(PRICE_DECIMALS + LENGTH_DECIMALS);

/** Half a minor unit: an answer whose bound is nearer than this is as good as proven. */
export const HALF_MINOR: Exact = EXACT_PER_MINOR / 2n;

function exponentOf(currency: string): number {
  const exponent = currencyExponent(currency);
  if (exponent === undefined) throw new RangeError(`unknown currency ${currency}`);
  return exponent;
}

/** "12.345" GBP → exact. Throws RangeError where the amount has more decimals than a price may carry. */
export function exactFromAmount(amount: string, currency: string): Exact {
  const scaled = new D(amount).mul(new D(10).pow(exponentOf(currency) + PRICE_DECIMALS));
  if (!scaled.isInteger()) throw new RangeError(`${amount} ${currency} has too many decimals for a price`);
  return BigInt(scaled.toFixed(0)) * 10n ** BigInt(LENGTH_DECIMALS);
}

/** Price a metre × millimetres, exact. */
export function priceTimesMm(pricePerMetre: Exact, mm: number): Exact {
  return (pricePerMetre / 1000n) * BigInt(mm);
}

/** Half-up to whole minor units: the one rounding of money, done on printed lines. */
export function toMinor(exact: Exact): bigint {
  const half = EXACT_PER_MINOR / 2n;
  return exact >= 0n ? (exact + half) / EXACT_PER_MINOR : -((-exact + half) / EXACT_PER_MINOR);
}

/** Minor units as the decimal string that ISO 4217 gives the currency: 1234 GBP → "12.34", 1234 JPY → "1234". */
export function minorToAmount(minor: bigint, currency: string): string {
  return new D(minor.toString()).div(new D(10).pow(exponentOf(currency))).toFixed(exponentOf(currency));
}

/** The exact amount with all its decimals and no trailing zeros beyond the minor unit: what a proof is stated in. */
export function exactToAmount(exact: Exact, currency: string): string {
  const exponent = exponentOf(currency);
  const value = new D(exact.toString()).div(new D(EXACT_PER_MINOR.toString())).div(new D(10).pow(exponent));
  return value.decimalPlaces() <= exponent ? value.toFixed(exponent) : value.toFixed();
}

/** Exact money as a floating-point number of minor units: for the solver alone, whose answer is re-priced exactly. */
export function exactToSolver(exact: Exact): number {
  return Number(exact) / Number(EXACT_PER_MINOR);
}

/** A solver's floating-point bound in minor units, down to a whole exact amount, so that a bound is never overstated. */
export function solverToExactFloor(minor: number): Exact {
  const floored = BigInt(new D(minor).mul(new D(EXACT_PER_MINOR.toString())).floor().toFixed(0));
  return floored;
}

/** True where the amount is a decimal with at most `extra` decimals beyond the currency's minor unit. */
export function fitsCurrency(amount: string, currency: string, extra: number): boolean {
  const exponent = currencyExponent(currency);
  return exponent !== undefined && new D(amount).decimalPlaces() <= exponent + extra;
}

/** A solver's floating-point amount in minor units, to the nearest whole one: for progress messages alone. */
export function solverToMinor(minor: number): bigint {
  return BigInt(Math.round(minor));
}

export function exactFromMoney({ amount, currency }: { amount: string; currency: string }): Exact {
  return exactFromAmount(amount, currency);
}
