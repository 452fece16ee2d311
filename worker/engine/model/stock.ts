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
        description: 'Of each of these lengths, as it can be used, mm.',
      }),
    }),
  ])
  .meta({
    id: 'StockItem',
    description: 'What is on your shelf: so many pieces of a part, a tool among them, or so many lengths.',
  });
export type StockItem = z.infer<typeof StockItem>;
