import { z } from 'zod';
import { Code, Name, Note, count, mm } from './code.ts';
import { LIMITS } from './limits.ts';

const common = {
  code: Code,
  part: Code,
  count: count(0),
  owner: Name.optional().meta({
    description: 'The name of the member whose it is. Left out: it is the club’s.',
    example: 'Ada',
  }),
  place: Name.optional().meta({ description: 'Where it lies.', example: 'shed, second drawer' }),
  clubMayUse: z.boolean().optional().meta({
    description:
      'Only with an owner. false: only quotes of the owner use it. Left out: true, so all quotes of the club do. In a job file all stock is used.',
  }),
  note: Note.optional(),
};

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
  .superRefine(({ owner, clubMayUse }, issues) => {
    if (clubMayUse !== undefined && owner === undefined)
      issues.addIssue({
        code: 'custom',
        path: ['clubMayUse'],
        message: 'only what has an owner can be kept from the club: state owner, or leave clubMayUse out',
      });
  })
  .meta({
    id: 'StockItem',
    description:
      'What you have in stock: a number of pieces of a part (also of a tool), or a number of lengths.',
  });
export type StockItem = z.infer<typeof StockItem>;
