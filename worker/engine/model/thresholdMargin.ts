import { z } from 'zod';
import { MoneyOut } from './money.ts';

const whole = z.int().min(0);

/** Of a threshold: goods at the supplier's prices, packs, or mm. */
const ThresholdAmount = z.union([MoneyOut, z.strictObject({ packs: whole }), z.strictObject({ mm: whole })]);

export const ThresholdMargin = z
  .strictObject({
    kind: z.enum(['freePostage', 'postage', 'minimumOrder', 'break']),
    line: whole.optional().meta({ description: 'Of a price break: the line of this list.' }),
    threshold: ThresholdAmount,
    over: ThresholdAmount.meta({ description: 'By how much it is met.' }),
    percent: z.number().meta({ description: 'The same, percent of the threshold.' }),
    costs: MoneyOut.optional().meta({
      description:
        'What the order would cost more without it, delivered, in the club’s currency; none where it would not be taken.',
    }),
  })
  .meta({
    id: 'ThresholdMargin',
    description: 'Free or lower postage, a minimum order or a price break that is met by little.',
  });
export type ThresholdMargin = z.infer<typeof ThresholdMargin>;
