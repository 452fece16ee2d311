import { z } from 'zod';
import { Code, Note, count, mm } from './code.ts';
import { LIMITS } from './limits.ts';

const common = { code: Code, part: Code, count: count(1), note: Note.optional() };

export const StockItem = z
  .discriminatedUnion('form', [
    z.strictObject({ form: z.literal('pieces'), ...common }),
    z.strictObject({
      form: z.literal('length'),
      ...common,
      lengthMm: mm(LIMITS.offerMm, 1).meta({
        description: 'The usable millimetres of each of these lengths.',
      }),
    }),
  ])
  .meta({
    id: 'StockItem',
    description:
      'What you have in stock: a number of pieces of a part (also of a tool), or a number of lengths.',
  });
export type StockItem = z.infer<typeof StockItem>;
