import { z } from 'zod';
import { Day, Name, Note, count, mm } from './code.ts';
import { LIMITS } from './limits.ts';
import { Money, MoneyOut } from './money.ts';

/** A frozen order list on its way: nothing of it changes but what is known of it. */
export const ORDER_STATES = ['draft', 'sent', 'partReceived', 'received', 'closed', 'cancelled'] as const;
export type OrderState = (typeof ORDER_STATES)[number];

const some = (description: string) => count(0).default(0).meta({ description });

/** What a delivery says of one line of the order. */
export const ReceiptLine = z
  .strictObject({
    line: count(1).meta({ description: 'The number of the line on the order list.' }),
    arrived: some('So many packs, kits or lengths came and are right. For wire by the metre see lengthsMm.'),
    lengthsMm: z
      .array(mm(LIMITS.offerMm, 1))
      .max(LIMITS.loomParts)
      .default([])
      .meta({ description: 'For a line that is ordered by the metre: the lengths that came, in mm.' }),
    faulty: some('So many came and are faulty. By the metre: millimetres.'),
    wrong: some('So many came and are something else. By the metre: millimetres.'),
    backOrdered: some('So many will come later, as the supplier says. By the metre: millimetres.'),
    notComing: some('So many will not come: the line is short by them. By the metre: millimetres.'),
    over: z.boolean().optional().meta({
      description: 'true: more came than was ordered, and you keep it. Left out: more is refused.',
    }),
    paid: Money.optional().meta({
      description:
        'What was charged for what came on this line, in the currency in which the supplier is paid. Left out: the price of the order list.',
    }),
    place: Name.optional().meta({ description: 'Where it is put.' }),
    updateOffer: z.boolean().optional().meta({
      description:
        'true: the offer gets the price that was charged, seen on this day. Left out: the offer stays as it is.',
    }),
  })
  .meta({ id: 'ReceiptLine' });
export type ReceiptLine = z.infer<typeof ReceiptLine>;

export const ReceiptIn = z
  .strictObject({
    number: Name.optional().meta({
      description: 'The supplier’s number of the delivery. The same number of the same order comes once.',
    }),
    day: Day.optional().meta({ description: 'The day on which it came. Left out: today.' }),
    note: Note.optional(),
    lines: z.array(ReceiptLine).min(1).max(LIMITS.loomParts),
  })
  .meta({ id: 'ReceiptRequest', description: 'What came with one delivery of an order.' });
export type ReceiptIn = z.infer<typeof ReceiptIn>;

const Returned = z
  .strictObject({ right: z.int(), faulty: z.int(), wrong: z.int() })
  .meta({ id: 'Returned', description: 'So much went back to the supplier.' });
export type Returned = z.infer<typeof Returned>;

/** Where a line stands. All figures are of its unit. */
export const OrderLineState = z
  .strictObject({
    line: z.int(),
    unit: z.enum(['pack', 'kit', 'length', 'mm']),
    ordered: z.int(),
    arrived: z.int(),
    faulty: z.int(),
    wrong: z.int(),
    backOrdered: z.int().meta({ description: 'As the last delivery said.' }),
    notComing: z.int(),
    returned: Returned,
    outstanding: z.int().meta({ description: 'What is still to come.' }),
  })
  .meta({ id: 'OrderLineState' });
export type OrderLineState = z.infer<typeof OrderLineState>;

/** What a line cost against what the quote said, in the currency in which the supplier is paid. */
export const OrderCostLine = z
  .strictObject({
    line: z.int(),
    quoted: MoneyOut,
    expected: MoneyOut.meta({ description: 'The price of the order list for what came.' }),
    paid: MoneyOut,
    difference: MoneyOut.meta({ description: 'Paid less expected.' }),
  })
  .meta({ id: 'OrderCostLine' });
export type OrderCostLine = z.infer<typeof OrderCostLine>;

/** What one part of the cost of an order came to, in the club’s currency. */
const OrderCostItem = z
  .strictObject({
    kind: z.enum([
      'goods',
      'postage',
      'handling',
      'tax',
      'duty',
      'importTax',
      'clearance',
      'rounding',
      'refunds',
      'returnPostage',
    ]),
    quoted: MoneyOut,
    paid: MoneyOut,
    stated: z.boolean().meta({
      description: 'true: as you stated it. false: as the quote said, for what came.',
    }),
  })
  .meta({ id: 'OrderCostItem' });
export type OrderCostItem = z.infer<typeof OrderCostItem>;

export const OrderCost = z
  .strictObject({
    lines: z.array(OrderCostLine),
    items: z.array(OrderCostItem).meta({ description: 'In the club’s currency.' }),
    restockingFees: MoneyOut.meta({
      description: 'What the supplier kept back of refunds, in the currency in which it is paid.',
    }),
    quoted: MoneyOut,
    paid: MoneyOut,
    difference: MoneyOut.meta({ description: 'Paid less quoted.' }),
  })
  .meta({ id: 'OrderCost', description: 'What an order cost against what its quote said.' });
export type OrderCost = z.infer<typeof OrderCost>;

/**
 * What one unit of a line puts on the shelf: pieces, or a length; by the metre, the lengths that come. `needed`: how many pieces
 * or lengths of the whole line the looms of the quote need; the others are spare.
 */
export interface OrderGoods {
  line: number;
  contents: (
    | { part: string; form: 'pieces'; count: number; needed?: number }
    | { part: string; form: 'length'; lengthMm?: number; needed?: number }
  )[];
}
