import { z } from 'zod';
import { Code, Name, Note, count, mm } from './code.ts';
import { LIMITS } from './limits.ts';
import { MoneyOut } from './money.ts';

/** What can happen to a stock item. Each is one row of the ledger, which is only added to. */
export const MOVEMENT_KINDS = [
  'received',
  'found',
  'counted',
  'used',
  'cut',
  'offcut',
  'returned',
  'lost',
  'moved',
] as const;
export type MovementKind = (typeof MOVEMENT_KINDS)[number];

const reason = Note.min(1).meta({ description: 'Why, in your words.', example: 'two were bent' });
const forQuote = z.uuid().optional().meta({
  description: 'The quote for whose looms it is: a quote for the rest of that one counts it as bought.',
});
const some = count(1).default(1);

export const MovementIn = z
  .discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('found'), count: some, reason: reason.optional() }),
    z.strictObject({ kind: z.literal('lost'), count: some, reason }),
    z.strictObject({
      kind: z.literal('counted'),
      count: count(0).meta({ description: 'How many there are, as counted.' }),
      reason,
    }),
    z.strictObject({ kind: z.literal('used'), count: some, quote: forQuote, reason: reason.optional() }),
    z.strictObject({ kind: z.literal('moved'), place: Name, reason: reason.optional() }),
    z.strictObject({
      kind: z.literal('cut'),
      piecesMm: z
        .array(mm(LIMITS.offerMm, 1))
        .min(1)
        .max(LIMITS.wires)
        .meta({ description: 'The pieces that are cut off one length, in mm.' }),
      offcutMm: mm(LIMITS.offerMm).optional().meta({
        description:
          'What is left of the length as you measured it, in mm. Left out: the length less the pieces.',
      }),
      quote: forQuote,
      reason: reason.optional(),
    }),
  ])
  .meta({
    id: 'MovementRequest',
    description:
      'found and lost: so many more or less. counted: so many are there. used: so many are built in. moved: it lies somewhere else now. cut: pieces are cut off one of its lengths, and what is left becomes a stock item of its own.',
  });
export type MovementIn = z.infer<typeof MovementIn>;

/** What one row says beside its kind, its change and its balance. */
export const MovementBody = z.strictObject({
  part: Code,
  lengthMm: mm(LIMITS.offerMm, 1).optional().meta({ description: 'Millimetres of each, if it is a length.' }),
  reason: Note.optional(),
  place: Name.optional().meta({ description: 'Where it lies from then on, if it was moved.' }),
  piecesMm: z.array(z.int()).optional().meta({ description: 'The pieces that were cut off.' }),
  offcutMm: z.int().optional().meta({ description: 'What was left of the length that was cut.' }),
  offcut: Code.optional().meta({ description: 'The stock item that the offcut became, if it was kept.' }),
  cutFrom: Code.optional().meta({ description: 'Of an offcut: the stock item that it was cut from.' }),
  worth: MoneyOut.optional().meta({
    description:
      'What was paid for what came or, with a minus, for what was taken: of what is taken its share of all that was paid for what lay there. Absent where nobody knows.',
  }),
  quote: z.uuid().optional(),
  requirement: z.string().optional().meta({
    description: 'Of a cut by the cutting plan of the quote: the need whose pieces were cut.',
  }),
  entry: z.int().optional().meta({ description: 'The entry of that need in the cutting plan, from 1.' }),
  order: z.uuid().optional().meta({ description: 'The order that it came with.' }),
  line: z.int().optional().meta({ description: 'The line of that order.' }),
});
export type MovementBody = z.infer<typeof MovementBody>;

export const Movement = MovementBody.extend({
  stock: Code,
  number: z.int().min(1).meta({ description: 'Counts the movements of this stock item.' }),
  kind: z.enum(MOVEMENT_KINDS),
  change: z.int().meta({ description: 'So many more, or with a minus so many less.' }),
  balance: z.int().min(0).meta({ description: 'So many were there after it.' }),
  at: z.iso.datetime(),
  who: z.string(),
}).meta({ id: 'Movement', description: 'What happened to a stock item.' });
export type Movement = z.infer<typeof Movement>;
