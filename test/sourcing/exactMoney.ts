/** Money of the brute force: whole ten-millionths of a minor unit, as numbers below 2^53. */
export const MINOR = 10_000_000;

/** Decimals of the minor unit by ISO 4217, for the currencies of the instances. */
export const DECIMALS = { GBP: 2, JPY: 0, KWD: 3 } as const;
export type InstanceCurrency = keyof typeof DECIMALS;

function decimalsOf(currency: string): number {
  if (currency in DECIMALS) return DECIMALS[currency as InstanceCurrency];
  throw new RangeError(`no instance is in ${currency}`);
}

/** "12.345" GBP → 12_345_000_000. */
export function fromAmount(money: { amount: string; currency: string }): number {
  const [whole = '', fraction = ''] = money.amount.split('.');
  const places = decimalsOf(money.currency) + 7;
  if (fraction.length > places) throw new RangeError(`${money.amount} is too fine`);
  return checked(Number(whole + fraction.padEnd(places, '0')));
}

/** The exact amount of a proof, "21.1025" or "21.10", to the same scale. */
export function fromProof(money: { amount: string; currency: string }): bigint {
  return BigInt(fromAmount(money));
}

export function checked(value: number): number {
  if (!Number.isSafeInteger(value)) throw new RangeError(`${value} is no exact whole number`);
  return value;
}

/** A whole share of an amount. Throws where it would not be whole. */
export function share(value: number, parts: number): number {
  return checked(value / parts);
}
