import { fraction, roundOf, times } from '../units/fraction.ts';
import type { MoneyOut } from './money.ts';
import { minorOf, moneyOf } from './orderCost.ts';

/** What was paid for something, in whole minor units. */
export type Worth = MoneyOut;

/** The share of so many of `all`, to the nearest minor unit; of all of them, all. */
export function shareOfWorth(worth: Worth, part: number, all: number): Worth {
  if (all <= 0) return moneyOf(0n, worth.currency);
  const share = roundOf(times(fraction(minorOf(worth)), fraction(BigInt(part), BigInt(all))));
  return moneyOf(share, worth.currency);
}

export const negative = (worth: Worth): Worth => moneyOf(-minorOf(worth), worth.currency);

/** Splits what was paid by weights: the shares sum to it. Where all weigh nothing, all shares are nothing but the last. */
export function splitWorth(worth: Worth, weights: readonly number[]): Worth[] {
  const all = weights.reduce((sum, weight) => sum + weight, 0);
  let before = 0;
  let given = 0n;
  return weights.map((weight, index) => {
    before += weight;
    const upTo = index === weights.length - 1 ? minorOf(worth) : minorOf(shareOfWorth(worth, before, all));
    const share = upTo - given;
    given = upTo;
    return moneyOf(share, worth.currency);
  });
}
