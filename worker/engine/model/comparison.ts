import { z } from 'zod';
import { Code } from './code.ts';
import { MoneyOut } from './money.ts';

export const Comparison = z
  .strictObject({
    kind: z.enum(['cheapestSinglePrices', 'oneShop']),
    label: z.string(),
    supplier: Code.optional().meta({ description: 'The one supplier.' }),
    total: MoneyOut,
    saving: MoneyOut,
    suppliers: z.int().min(0),
    unsourced: z.int().min(0).meta({
      description: 'Needs that this way does not meet, in addition to those that are not sourced.',
    }),
    proven: z.boolean().optional().meta({
      description:
        'For one supplier: true if it is proven that no single supplier is cheaper; false if it is only the cheapest found.',
    }),
  })
  .meta({ id: 'Comparison', description: 'What another way of buying the same things costs.' });
export type Comparison = z.infer<typeof Comparison>;
