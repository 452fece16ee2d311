import { z } from 'zod';
import { Code, count, Day, mm, Name, Note } from '../../worker/engine/model/code.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { MOVEMENT_KINDS, MovementBody } from '../../worker/engine/model/movement.ts';
import { ORDER_STATES, ReceiptIn } from '../../worker/engine/model/order.ts';
import { STORED_ENTRIES } from '../../worker/engine/model/orderEntry.ts';
import { OrderList } from '../../worker/engine/model/result.ts';
import { Id, Moment, Number32, Words } from './primitives.ts';

/** The lines of an archive that tell of orders, of what came of them, and of what happened on the shelf. */

const State = z.enum(ORDER_STATES);
const MOST = 2 ** 31 - 1;

/** Of orders that were accepted before anything was kept for them it is not known. */
const needed = z.int().min(0).optional();

const Goods = z.strictObject({
  line: count(1),
  contents: z.array(
    z.discriminatedUnion('form', [
      z.strictObject({ part: Code, form: z.literal('pieces'), count: count(1), needed }),
      z.strictObject({
        part: Code,
        form: z.literal('length'),
        lengthMm: mm(LIMITS.offerMm, 1).optional(),
        needed,
      }),
    ]),
  ),
});

const fault = (path: PropertyKey[], code: string, message: string) =>
  ({ code: 'custom', path, message, params: { code } }) as const;

export const OrderEntry = z
  .strictObject({
    type: z.literal('order'),
    id: Id,
    number: Number32,
    quote: Id,
    supplier: Code,
    wave: Number32,
    state: State,
    asOf: Day,
    list: OrderList,
    goods: z.array(Goods),
    supplierNumber: Name.optional(),
    note: Note.optional(),
    steps: z.array(z.strictObject({ state: State, note: Note.optional(), at: Moment, actor: Words })).min(1),
    version: Number32,
    createdAt: Moment,
    createdBy: Words,
    updatedAt: Moment,
    updatedBy: Words,
  })
  .superRefine(({ supplier, wave, state, list, goods, steps }, issues) => {
    if (list.supplier !== supplier || (list.wave ?? 1) !== wave)
      issues.addIssue(fault(['list'], 'another-list', 'the list is of this supplier and wave'));
    const lines = new Set(list.lines.map(({ line }) => line));
    if (goods.length !== lines.size || !goods.every(({ line }) => lines.has(line)))
      issues.addIssue(fault(['goods'], 'other-lines', 'goods has each line of the list once'));
    if (steps.at(-1)?.state !== state)
      issues.addIssue(fault(['state'], 'not-its-state', 'the state is that of the last step'));
  });

/** A delivery. */
export const ReceiptEntry = z.strictObject({
  type: z.literal('receipt'),
  order: Id,
  id: Id,
  at: Moment,
  actor: Words,
  body: ReceiptIn.required({ day: true }),
});

/** What goes back, what is refunded, what was charged. */
export const OrderEntryEntry = z.strictObject({
  type: z.literal('orderEntry'),
  order: Id,
  id: Id,
  at: Moment,
  actor: Words,
  body: z.discriminatedUnion('kind', STORED_ENTRIES),
});

/** What is kept on the shelf for a quote. */
export const ReservationEntry = z.strictObject({
  type: z.literal('reservation'),
  stock: Code,
  quote: Id,
  id: Id,
  count: count(1),
  until: Day.optional(),
  at: Moment,
  actor: Words,
});

/** A row of the ledger of the shelf. */
export const MovementEntry = z.strictObject({
  type: z.literal('movement'),
  stock: Code,
  number: Number32,
  id: Id,
  kind: z.enum(MOVEMENT_KINDS),
  change: z.int().min(-MOST).max(MOST),
  balance: count(0, MOST),
  at: Moment,
  actor: Words,
  body: MovementBody,
});
