import { z } from 'zod';
import { Code } from './code.ts';
import { MoneyOut } from './money.ts';

export const Comparison = z
  .strictObject({
    kind: z.enum(['cheapestSinglePrices', 'oneShop']),
    label: z.string(),
    supplier: Code.optional().meta({ description: 'The one shop.' }),
    total: MoneyOut,
    saving: MoneyOut,
    suppliers: z.int().min(0),
    unsourced: z.int().min(0).meta({
      description: 'Needs that this way leaves unmet, beside those that nobody sells.',
    }),
    proven: z.boolean().optional().meta({
      description:
        'Of one shop: whether it is proven that no shop does it for less; else it is the cheapest found.',
    }),
  })
  .meta({ id: 'Comparison', description: 'What another way of buying the same would cost.' });
export type Comparison = z.infer<typeof Comparison>;
