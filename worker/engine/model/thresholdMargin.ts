import { z } from 'zod';
import { MoneyOut } from './money.ts';

const whole = z.int().min(0);

/** Of a threshold: goods at the supplier's prices, packs, or mm. */
const ThresholdAmount = z.union([MoneyOut, z.strictObject({ packs: whole }), z.strictObject({ mm: whole })]);

export const ThresholdMargin = z
  .strictObject({
    kind: z.enum(['freePostage', 'postage', 'minimumOrder', 'break']),
    line: whole.optional().meta({ description: 'For a price break: the line of this list.' }),
    threshold: ThresholdAmount,
    over: ThresholdAmount.meta({ description: 'How far the order is above the threshold.' }),
    percent: z.number().meta({ description: 'The same, percent of the threshold.' }),
    costs: MoneyOut.optional().meta({
      description:
        'How much more the order costs, delivered, if it misses the threshold, in the club’s currency. Absent if the supplier does not take such an order.',
    }),
  })
  .meta({
    id: 'ThresholdMargin',
    description: 'Free or lower postage, a minimum order or a price break that this order meets by little.',
  });
export type ThresholdMargin = z.infer<typeof ThresholdMargin>;

export const MoreForMinimum = z
  .strictObject({
    line: whole.meta({ description: 'The line of this list.' }),
    over: ThresholdAmount.meta({ description: 'What is bought of it beyond the needs.' }),
    minimumOrder: MoneyOut,
  })
  .meta({
    id: 'MoreForMinimum',
    description:
      'What is bought beyond the needs only because the order would not reach the minimum order without it. Absent from older results.',
  });
export type MoreForMinimum = z.infer<typeof MoreForMinimum>;
