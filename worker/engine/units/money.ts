import { D } from './decimal.ts';
import { currencyExponent } from './currency.ts';
import { fraction, roundOf, times, type Fraction } from './fraction.ts';

/**
 * Exact money: a whole number of ten-millionths of the currency's minor unit.
 * A price carries up to 4 decimals beyond the minor unit and a length is whole millimetres (thousandths of a metre),
 * so price × length is a whole number on this scale and no cost is ever rounded before it is printed.
 */
export type Exact = bigint;

export const PRICE_DECIMALS = 4;
const LENGTH_DECIMALS = 3;
const EXACT_PER_MINOR: Exact = 10n ** BigInt(PRICE_DECIMALS + LENGTH_DECIMALS);
/** One minor unit of a currency. */
export const MINOR_UNIT: Exact = EXACT_PER_MINOR;
/** What the prices of offers are whole multiples of. */
export const PRICE_STEP: Exact = 10n ** BigInt(LENGTH_DECIMALS);

/**
 * Where rates of exchange and percentages of tax come in, costs are whole numbers of a finer scale: so many times as
 * many to the minor unit. 1: the scale of prices.
 */
export type Scale = bigint;

/** Half a minor unit: an answer whose bound is nearer than this is as good as proven. */
export function halfMinor(scale: Scale): Exact {
  return (EXACT_PER_MINOR * scale) / 2n;
}

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
export function toMinor(exact: Exact, scale: Scale = 1n): bigint {
  const minor = EXACT_PER_MINOR * scale;
  const half = minor / 2n;
  return exact >= 0n ? (exact + half) / minor : -((-exact + half) / minor);
}

/** Minor units as the decimal string that ISO 4217 gives the currency: 1234 GBP → "12.34", 1234 JPY → "1234". */
export function minorToAmount(minor: bigint, currency: string): string {
  return new D(minor.toString()).div(new D(10).pow(exponentOf(currency))).toFixed(exponentOf(currency));
}

/** A third of a penny has no end: so many decimals of it are printed, half-up. */
const MOST_DECIMALS = 30;

/** The exact amount with all its decimals and no trailing zeros beyond the minor unit: what a proof is stated in. */
export function exactToAmount(exact: Exact, currency: string, scale: Scale = 1n): string {
  const exponent = exponentOf(currency);
  const value = new D(exact.toString())
    .div(new D((EXACT_PER_MINOR * scale).toString()))
    .div(new D(10).pow(exponent))
    .toDecimalPlaces(MOST_DECIMALS);
  return value.decimalPlaces() <= exponent ? value.toFixed(exponent) : value.toFixed();
}

/** Exact money as a floating-point number of minor units: for the solver alone, whose answer is re-priced exactly. */
export function exactToSolver(exact: Exact, scale: Scale = 1n): number {
  return new D(exact.toString()).div((EXACT_PER_MINOR * scale).toString()).toNumber();
}

/** A solver's floating-point bound in minor units, down to a whole exact amount, so that a bound is never overstated. */
export function solverToExactFloor(minor: number, scale: Scale = 1n): Exact {
  return BigInt(
    new D(minor)
      .mul((EXACT_PER_MINOR * scale).toString())
      .floor()
      .toFixed(0),
  );
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

/** Exact minor units as a price is written: half-up to as many decimals as a price may carry. */
export function minorToPrice(minor: Fraction, currency: string): string {
  return exactToAmount(roundOf(times(minor, fraction(10n ** BigInt(PRICE_DECIMALS)))) * PRICE_STEP, currency);
}
