import { z } from 'zod';
import { currencyExponent } from '../units/currency.ts';
import { withShort } from './short/form.ts';
import { moneyForm } from './short/moneyForm.ts';
import { fitsCurrency, PRICE_DECIMALS } from '../units/money.ts';

export const Currency = z
  .string()
  .regex(/^[A-Z]{3}$/, 'a currency is three capital letters, as in GBP')
  .refine(
    (code) => currencyExponent(code) !== undefined,
    'not a currency code of ISO 4217; write its three letters, as in GBP',
  )
  .meta({ id: 'Currency', description: 'Currency code of ISO 4217.', example: 'GBP' });
export type Currency = z.infer<typeof Currency>;

const Amount = z
  .string()
  .regex(/^\d{1,12}(\.\d{1,8})?$/, {
    error: ({ input }) =>
      typeof input === 'string' && /^-[\d.]+$/.test(input)
        ? 'an amount is not negative here; give 0 or more'
        : 'an amount is written as digits with a dot, as in "12.34"',
  })
  .meta({ example: '3.95' });

function money(id: string, extraDecimals: number, description: string) {
  return withShort(
    z
      .strictObject({ amount: Amount, currency: Currency })
      .superRefine((value, issues) => {
        // An unknown currency and a malformed amount are faults of their own, already told.
        if (
          currencyExponent(value.currency) !== undefined &&
          Amount.safeParse(value.amount).success &&
          !fitsCurrency(value.amount, value.currency, extraDecimals)
        )
          issues.addIssue({
            code: 'custom',
            path: ['amount'],
            message: `amounts in ${value.currency} have at most ${(currencyExponent(value.currency) ?? 0) + extraDecimals} decimals here`,
          });
      })
      .meta({ id, description, example: { amount: '3.95', currency: 'GBP' } }),
    moneyForm,
  );
}

/** An amount in whole minor units. */
export const Money = money(
  'Money',
  0,
  'An amount as a decimal text with its currency, in whole minor units (pence, cents).',
);
export type Money = z.infer<typeof Money>;

/** A price of an offer: up to 4 decimals beyond the minor unit (0.385 a metre). */
export const Price = money(
  'Price',
  PRICE_DECIMALS,
  'A price. It can have up to 4 decimals more than the minor unit has.',
);
export type Price = z.infer<typeof Price>;

/** Money in a result: may be negative (a saving, a rounding line). */
export const MoneyOut = z
  .strictObject({ amount: z.string().regex(/^-?\d+(\.\d+)?$/), currency: Currency })
  .meta({ id: 'MoneyOut', description: 'An amount in a result. It can be negative.' });
export type MoneyOut = z.infer<typeof MoneyOut>;
