import { z } from 'zod';
import { Code, Day, Name, Note, count } from './code.ts';
import { Money } from './money.ts';

const day = Day.optional().meta({ description: 'The day of it. Left out: today.' });

/** What goes back to the supplier. */
export const ReturnIn = z
  .strictObject({
    line: count(1).meta({ description: 'The number of the line on the order list.' }),
    what: z.enum(['right', 'faulty', 'wrong']).meta({
      description:
        'right: what arrived and is right, and is not wanted; it is taken off the shelf. faulty, wrong: what a delivery said is so.',
    }),
    count: count(1).meta({
      description:
        'So many packs, kits or lengths. By the metre: so many lengths of the stock item; of what is faulty or wrong, millimetres.',
    }),
    stock: Code.optional().meta({
      description:
        'For what is right and was bought by the metre: the stock item whose lengths go back. Left out otherwise.',
    }),
    agreed: z.boolean().optional().meta({
      description: 'true: the supplier takes back wire that was cut off the reel for you. It need not.',
    }),
    postage: Money.optional().meta({
      description: 'What you pay to send it back, in the club’s currency.',
    }),
    reason: Note.optional(),
    day,
  })
  .meta({ id: 'ReturnRequest', description: 'What goes back to the supplier.' });
export type ReturnIn = z.infer<typeof ReturnIn>;

/** What the supplier pays back. */
export const RefundIn = z
  .strictObject({
    refund: Money.meta({
      description: 'What was paid back to you, in the currency in which the supplier is paid.',
    }),
    fee: Money.optional().meta({
      description:
        'What the supplier kept back for restocking. It is told with the refund and not taken off again.',
    }),
    number: Name.optional().meta({
      description: 'The supplier’s number of the credit. The same number of the same order comes once.',
    }),
    note: Note.optional(),
    day,
  })
  .meta({ id: 'RefundRequest' });
export type RefundIn = z.infer<typeof RefundIn>;

const theirs = (what: string) =>
  Money.optional().meta({ description: `${what}, in the currency in which the supplier is paid.` });
const ours = (what: string) => Money.optional().meta({ description: `${what}, in the club’s currency.` });

/** What was really charged beside the goods. */
export const ChargesIn = z
  .strictObject({
    postage: theirs('Postage as charged'),
    handling: theirs('Handling as charged'),
    tax: theirs('Tax that the invoice added'),
    duty: ours('Customs duty as charged'),
    importTax: ours('Import tax as charged'),
    clearance: ours('The carrier’s fee as charged'),
    rate: z
      .string()
      .regex(/^(?=.*[1-9])\d{1,12}(\.\d{1,12})?$/)
      .optional()
      .meta({
        description:
          'The rate at which your bank exchanged: so much of the club’s currency for one of the supplier’s.',
        example: '0.8642',
      }),
    note: Note.optional(),
  })
  .meta({
    id: 'ChargesRequest',
    description: 'What was charged in addition to the goods. What is left out stays as it is.',
  });
export type ChargesIn = z.infer<typeof ChargesIn>;

/** What is stored of one of them. */
export const STORED_ENTRIES = [
  ReturnIn.extend({
    kind: z.literal('return'),
    amount: count(1).meta({ description: 'How much of the line went back, in its unit.' }),
    day: Day,
  }),
  RefundIn.extend({ kind: z.literal('refund'), day: Day }),
  ChargesIn.extend({ kind: z.literal('charges') }),
] as const;
export type OrderEntry = z.infer<(typeof STORED_ENTRIES)[number]>;
