import { DECIMALS, type InstanceCurrency } from '../exactMoney.ts';

/** Minor units, to a hundredth at the finest, as an amount: 51.25 GBP → "0.5125". */
export function amountOf(minor: number, currency: InstanceCurrency): { amount: string; currency: string } {
  const places = DECIMALS[currency];
  const fine = Number.isInteger(minor) ? 0 : 2;
  const digits = String(Math.round(minor * 10 ** fine)).padStart(places + fine + 1, '0');
  const point = digits.length - places - fine;
  const fraction = digits.slice(point);
  return { amount: fraction === '' ? digits : `${digits.slice(0, point)}.${fraction}`, currency };
}
