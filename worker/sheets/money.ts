import { exactFromAmount, minorToAmount, toMinor } from '../engine/units/money.ts';

/** Printed amounts of one currency, summed: "1.20" and "0.05" are "1.25". */
export function summed(amounts: readonly string[], currency: string): string {
  const minor = amounts.reduce((sum, amount) => sum + toMinor(exactFromAmount(amount, currency)), 0n);
  return minorToAmount(minor, currency);
}

/** What is left of a printed amount without others of its currency. */
export function without(amount: string, taken: readonly string[], currency: string): string {
  const left = taken.reduce(
    (rest, each) => rest - toMinor(exactFromAmount(each, currency)),
    toMinor(exactFromAmount(amount, currency)),
  );
  return minorToAmount(left, currency);
}

/** An amount cut off after the decimals that the currency is paid in, so that a bound is never overstated. */
export function floored(amount: string, paid: string): string {
  const decimals = paid.split('.')[1]?.length ?? 0;
  const [whole = '0', fraction = ''] = amount.split('.');
  return decimals === 0 ? whole : `${whole}.${fraction.slice(0, decimals).padEnd(decimals, '0')}`;
}
