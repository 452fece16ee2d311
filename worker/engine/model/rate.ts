import { z } from 'zod';
import { Code, Day, Note } from './code.ts';
import { Currency } from './money.ts';

/** At most 6 digits and 8 decimals: products with prices stay exact. */
const RateAmount = z
  .string()
  .regex(/^\d{1,6}(\.\d{1,8})?$/, 'a rate is written as digits with a dot, as in "0.8512"')
  .meta({ example: '0.8512' })
  .refine((amount) => /[1-9]/.test(amount), 'a rate is more than zero');

export const Rate = z
  .strictObject({
    code: Code,
    currency: Currency,
    on: Day.meta({ description: 'The day of the rate. The rate is used until the day of the next one.' }),
    rate: RateAmount.meta({
      description: 'What one unit of the currency is worth in the club’s currency.',
      example: '0.8512',
    }),
    note: Note.optional(),
  })
  .meta({ id: 'Rate', description: 'A rate of exchange for a day, as you enter it.' });
export type Rate = z.infer<typeof Rate>;
