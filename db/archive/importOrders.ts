import { and, eq, or } from 'drizzle-orm';
import { lineStates, receiptFaults } from '../../worker/engine/model/orderLines.ts';
import type { OrderGoods } from '../../worker/engine/model/order.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { entriesOf, receiptsOf } from '../orders.ts';
import { paidIn } from '../receipts.ts';
import { orderEntries, orders, orderSteps, quotes, receipts } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import { orderEntryEntry, orderEntryOf, receiptEntry } from './exportOrders.ts';
import { notThere } from './notThere.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';

/**
 * Writes an order that the club does not have, with its steps. One of the same number, or of the same list of its quote, is
 * another order. Error: Invalid for a quote that is not there or has no result.
 */
export async function importOrder(ctx: Ctx, placed: Placed<EntryOf<'order'>>, told: Tally): Promise<void> {
  const { entry, line } = placed;
  const { type: _type, quote: quoteId, supplier: supplierCode, supplierNumber, note, steps, ...row } = entry;
  const ofList = and(
    eq(orders.quoteId, quoteId),
    eq(orders.supplierCode, supplierCode),
    eq(orders.wave, row.wave),
  );
  const there = await ctx.tx
    .select({ id: orders.id })
    .from(orders)
    .where(
      and(eq(orders.clubId, ctx.club), or(eq(orders.id, row.id), eq(orders.number, row.number), ofList)),
    );
  if (there.length > 0) {
    const stored = await orderEntryOf(ctx, row.id);
    return told.count(stored && isSame(stored, entry) ? 'equal' : 'differs', placed);
  }
  const [quote] = await ctx.tx
    .select({ jobHash: quotes.jobHash })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, quoteId)));
  if (!quote) throw new Invalid([notThere(line, 'quote', 'the quote', quoteId)]);
  if (quote.jobHash === null) throw new Invalid([notThere(line, 'quote', 'a result of the quote', quoteId)]);
  await ctx.tx.insert(orders).values({
    clubId: ctx.club,
    ...row,
    // As read from JSON, no length is there and undefined.
    goods: row.goods as OrderGoods[],
    quoteId,
    supplierCode,
    supplierNumber: supplierNumber ?? null,
    note: note ?? null,
    createdAt: new Date(row.createdAt),
    updatedAt: new Date(row.updatedAt),
  });
  await ctx.tx.insert(orderSteps).values(
    steps.map((step, index) => ({
      clubId: ctx.club,
      orderId: row.id,
      number: index + 1,
      state: step.state,
      note: step.note ?? null,
      madeAt: new Date(step.at),
      madeBy: step.actor,
    })),
  );
  told.count('new', placed);
}

/**
 * Writes a delivery that the club does not have; one of the same number of the same order is another one. Error: Invalid for
 * what cannot be of the lines of its order.
 */
export async function importReceipt(
  ctx: Ctx,
  placed: Placed<EntryOf<'receipt'>>,
  told: Tally,
): Promise<void> {
  const { entry, line } = placed;
  const { id, order: orderId, at, actor, body } = entry;
  const number = body.number ?? null;
  const there = await ctx.tx
    .select()
    .from(receipts)
    .where(
      and(
        eq(receipts.clubId, ctx.club),
        or(
          eq(receipts.id, id),
          number === null ? undefined : and(eq(receipts.orderId, orderId), eq(receipts.number, number)),
        ),
      ),
    );
  const [row] = there;
  if (row) {
    const same = there.length === 1 && isSame(receiptEntry(row), entry);
    return told.count(same ? 'equal' : 'differs', placed);
  }
  const [order] = await ctx.tx
    .select({ list: orders.list })
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, orderId)));
  // An order that differs was told of, and nothing will be written.
  if (!order) return told.count('differs', placed);
  requireOfLines(line, order.list, body);
  await ctx.tx.insert(receipts).values({
    clubId: ctx.club,
    id,
    orderId,
    number,
    body,
    madeAt: new Date(at),
    madeBy: actor,
  });
  told.count('new', placed);
}

/** Writes what was said of an order that the club does not have. Error: Invalid where more goes back than came. */
export async function importOrderEntry(
  ctx: Ctx,
  placed: Placed<EntryOf<'orderEntry'>>,
  told: Tally,
): Promise<void> {
  const { entry, line } = placed;
  const { id, order: orderId, at, actor, body } = entry;
  const [row] = await ctx.tx
    .select()
    .from(orderEntries)
    .where(and(eq(orderEntries.clubId, ctx.club), eq(orderEntries.id, id)));
  if (row) return told.count(isSame(orderEntryEntry(row), entry) ? 'equal' : 'differs', placed);
  const [order] = await ctx.tx
    .select({ list: orders.list })
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), eq(orders.id, orderId)));
  // An order that differs was told of, and nothing will be written.
  if (!order) return told.count('differs', placed);
  if (body.kind === 'return') await requireCame(ctx, orderId, order.list, line, body);
  await ctx.tx.insert(orderEntries).values({
    clubId: ctx.club,
    id,
    orderId,
    kind: body.kind,
    body,
    madeAt: new Date(at),
    madeBy: actor,
  });
  told.count('new', placed);
}

/** Error: Invalid. The deliveries of an order stand before what goes back of them. */
async function requireCame(
  ctx: Ctx,
  orderId: string,
  list: OrderList,
  line: number,
  { line: number, what, amount }: { line: number; what: 'right' | 'faulty' | 'wrong'; amount: number },
): Promise<void> {
  const came = (await receiptsOf(ctx, orderId)).map(({ body }) => body);
  const before = (await entriesOf(ctx, orderId)).map(({ body }) => body);
  const state = lineStates(list.lines, came, before).find((each) => each.line === number);
  if (!state) throw new Invalid([notThere(line, 'body, line', 'the line of the order', String(number))]);
  const there = { right: state.arrived, faulty: state.faulty, wrong: state.wrong }[what];
  if (state.returned[what] + amount <= there) return;
  throw new Invalid([
    {
      code: 'more-than-came',
      severity: 'stop',
      at: '/body/amount',
      where: `line ${line}, body, amount`,
      found: String(amount),
      limit: String(there - state.returned[what]),
      todo: 'More goes back than came. Take the archive again from where it came.',
    },
  ]);
}

/** Error: Invalid. Deliveries may stand in another order than they came in, so that how many were still to come is not asked. */
function requireOfLines(line: number, list: OrderList, body: EntryOf<'receipt'>['body']): void {
  const lines = body.lines.map((each) => ({ ...each, over: true }));
  const faults = receiptFaults(lineStates(list.lines, []), { lines }, paidIn(list));
  if (faults.length === 0) return;
  throw new Invalid(
    faults.map((fault) => ({
      ...fault,
      at: `/body${fault.at}`,
      where: `line ${line}, body, ${fault.where}`,
    })),
  );
}
