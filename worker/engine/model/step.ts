import { z } from 'zod';

/** One line of a sum, as it would be written on paper. */
export const Step = z
  .strictObject({
    rule: z.enum([
      'cutLength',
      'total',
      'count',
      'spares',
      'tradeSize',
      'covering',
      'way',
      'twist',
      'function',
      'substitute',
      'spareWire',
      'bundle',
      'chosen',
      'tool',
    ]),
    text: z.string().meta({
      description: 'The calculation in words and figures.',
      example: '620 route + 3 % slack 18.6 + strips 2 × 6 + remaking 2 × 12 = 674.6 → 675 mm',
    }),
    value: z.number(),
    unit: z.enum(['mm', 'pieces', 'mm²']),
  })
  .meta({ id: 'Step', description: 'One step of the calculation that leads to a need.' });
export type Step = z.infer<typeof Step>;
