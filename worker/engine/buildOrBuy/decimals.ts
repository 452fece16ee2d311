import type { Fraction } from '../units/fraction.ts';
import { exactToAmount, MINOR_UNIT } from '../units/money.ts';

/** Minor units of a currency as an amount with all its decimals; of one without an end, so many as money prints. */
export function decimalsOf({ over, under }: Fraction, currency: string): string {
  return exactToAmount(over * MINOR_UNIT, currency, under);
}
