import { and, eq, inArray, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { costOf, minorOf, moneyOf, paidToSupplier } from '../worker/engine/model/orderCost.ts';
import type { OrderCost, OrderGoods } from '../worker/engine/model/order.ts';
import type { ChargesIn, OrderEntry, RefundIn, ReturnIn } from '../worker/engine/model/orderEntry.ts';
import { returnFaults, takenBack } from '../worker/engine/model/orderReturn.ts';
import { headOf } from '../worker/engine/model/shelfMove.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { recordAll, type Ctx } from './club.ts';
import { Conflict, Invalid } from './errors.ts';
import { append, lastOf, replaced, writeItem } from './ledger.ts';
import { requireMayOrder } from './mayOrder.ts';
import { todayOf } from './offerPrices.ts';
import { entriesOf, getOrder, orderRow, receiptsOf, recordOrder, type StoredOrder } from './orders.ts';
import { paidIn } from './receipts.ts';
import { aloneOnShelf, firstOf, keepNoMoreThan, takeKept } from './reservations.ts';
import { orderEntries, stock, stockMovements } from './schema/index.ts';

type Row = Awaited<ReturnType<typeof orderRow>>;

/** Error: Conflict where an order was not sent. */
function requireSent({ state, number }: Row): void {
  if (state === 'draft' || state === 'cancelled')
    throw new Conflict(
      'not-sent',
      `Order ${number} is ${state === 'draft' ? 'a draft' : 'cancelled'}. This is said of an order that was sent.`,
    );
}

async function addEntry(ctx: Ctx, row: Row, entry: OrderEntry): Promise<void> {
  await ctx.tx.insert(orderEntries).values({
    clubId: ctx.club,
    id: ctx.newId(),
    orderId: row.id,
    kind: entry.kind,
    body: entry,
    madeAt: ctx.now(),
    madeBy: ctx.actor,
  });
  await recordOrder(ctx, row, `order.${entry.kind}`, { after: entry });
}

/** Findings at one field of the body. */
function fault(field: string, code: string, found: string, todo: string, limit?: string): Finding {
  return {
    code,
    severity: 'stop',
    at: pointer([field]),
    where: field,
    found,
    ...(limit === undefined ? {} : { limit }),
    todo,
  };
}

/** Error: Invalid for an amount in another currency. */
function requireCurrency(field: string, money: { currency: string } | undefined, currency: string): void {
  if (!money || money.currency === currency) return;
  throw new Invalid([
    fault(
      field,
      'other-currency',
      money.currency,
      `This amount is in ${currency}. State it in ${currency}.`,
      currency,
    ),
  ]);
}

/**
 * Goods go back to the supplier: what is right leaves the shelf. Errors: NotFound; Forbidden for another’s; Invalid for more
 * than came, for what was cut or used since, and for wire that was cut off the reel; Conflict for an order that was not sent.
 */
export async function returnGoods({
  ctx,
  input: { id, goods },
}: {
  ctx: Ctx;
  input: { id: string; goods: ReturnIn };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id, true);
  await aloneOnShelf(ctx);
  await requireMayOrder(ctx, row.quoteId);
  requireSent(row);
  requireCurrency('postage', goods.postage, row.list.total.currency);
  const { lines } = await getOrder({ ctx, input: { id } });
  const of = row.goods.find(({ line }) => line === goods.line);
  const there = await cameOn(ctx, id, goods.line);
  const findings = returnFaults(
    goods,
    lines.find(({ line }) => line === goods.line),
    lines.length,
    of,
    there,
  );
  if (findings.length > 0) throw new Invalid(findings);
  const back = goods.what === 'right' && of ? takenBack(goods, of, there) : [];
  const first = await firstOf(ctx, row.quoteId);
  const last = await lastOf(
    ctx,
    back.map(({ item }) => item.code),
  );
  for (const { item: before, count } of back) {
    const item = { ...before, count: before.count - count };
    await writeItem(ctx, item);
    const body = { ...headOf(item), order: id, line: goods.line };
    await append(ctx, [{ item, moved: { kind: 'returned', change: -count, body } }], last);
    await recordAll(ctx, [replaced(before, item)]);
    await takeKept(ctx, first, item.code, count);
    await keepNoMoreThan(ctx, item.code, item.count);
  }
  await addEntry(ctx, row, {
    ...goods,
    kind: 'return',
    amount: amountOf(goods, of, back),
    day: goods.day ?? todayOf(ctx),
  });
  return getOrder({ ctx, input: { id } });
}

/** How much of its line goes back, in the unit of the line. */
function amountOf(
  { what, count }: ReturnIn,
  of: OrderGoods | undefined,
  back: readonly { item: StockItem; count: number }[],
): number {
  const byMetre = of?.contents.some((each) => each.form === 'length' && each.lengthMm === undefined);
  if (what !== 'right' || byMetre !== true) return count;
  return back.reduce(
    (sum, each) => sum + (each.item.form === 'length' ? each.item.lengthMm : 0) * each.count,
    0,
  );
}

/** The stock items that came with a line, as they are now, held. */
async function cameOn(ctx: Ctx, order: string, line: number): Promise<StockItem[]> {
  const rows = await ctx.tx
    .selectDistinct({ code: stockMovements.stockCode })
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        eq(stockMovements.kind, 'received'),
        sql`${stockMovements.body} ->> 'order' = ${order}`,
        sql`(${stockMovements.body} ->> 'line')::int = ${line}`,
      ),
    );
  if (rows.length === 0) return [];
  const items = await ctx.tx
    .select({ body: stock.body })
    .from(stock)
    .where(
      and(
        eq(stock.clubId, ctx.club),
        inArray(
          stock.code,
          rows.map(({ code }) => code),
        ),
      ),
    )
    .orderBy(stock.code)
    .for('no key update');
  return items.map(({ body }) => body);
}

/**
 * The supplier pays back. Errors: NotFound; Forbidden for another’s; Invalid for another currency, and for more than was paid;
 * Conflict for an order that was not sent, and for a number that is there.
 */
export async function refundOrder({
  ctx,
  input: { id, refund },
}: {
  ctx: Ctx;
  input: { id: string; refund: RefundIn };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id, true);
  await requireMayOrder(ctx, row.quoteId);
  requireSent(row);
  const currency = paidIn(row.list);
  requireCurrency('refund', refund.refund, currency);
  requireCurrency('fee', refund.fee, currency);
  const entries = (await entriesOf(ctx, id)).map(({ body }) => body);
  const refunds = entries.filter((entry) => entry.kind === 'refund');
  if (refund.number !== undefined && refunds.some(({ number }) => number === refund.number))
    throw new Conflict(
      'refund-twice',
      `The refund ${refund.number} of order ${row.number} is entered already. Nothing was stored.`,
    );
  const receipts = (await receiptsOf(ctx, id)).map(({ body }) => body);
  const all = refunds.reduce((sum, each) => sum + minorOf(each.refund), 0n);
  const most = paidToSupplier(row.list, receipts, entries) - all;
  if (minorOf(refund.refund) > most)
    throw new Invalid([
      fault(
        'refund',
        'more-than-paid',
        refund.refund.amount,
        `Of what this supplier was paid for the order, ${moneyOf(most, currency).amount} ${currency} are not refunded yet. Correct the amount; if more was charged than the quote said, enter that first.`,
        moneyOf(most, currency).amount,
      ),
    ]);
  await addEntry(ctx, row, { ...refund, kind: 'refund', day: refund.day ?? todayOf(ctx) });
  return getOrder({ ctx, input: { id } });
}

const OURS = ['duty', 'importTax', 'clearance'] as const;
const THEIRS = ['postage', 'handling', 'tax'] as const;

/** What was charged beside the goods. Errors: NotFound; Forbidden for another’s; Invalid; Conflict for an order that was not sent. */
export async function chargeOrder({
  ctx,
  input: { id, charges },
}: {
  ctx: Ctx;
  input: { id: string; charges: ChargesIn };
}): Promise<StoredOrder> {
  const row = await orderRow(ctx, id, true);
  await requireMayOrder(ctx, row.quoteId);
  requireSent(row);
  for (const kind of THEIRS) requireCurrency(kind, charges[kind], paidIn(row.list));
  for (const kind of OURS) requireCurrency(kind, charges[kind], row.list.total.currency);
  if (charges.rate !== undefined && !row.list.theirs)
    throw new Invalid([
      fault(
        'rate',
        'no-exchange',
        charges.rate,
        'This order is paid in the club’s currency. Leave rate out.',
      ),
    ]);
  await addEntry(ctx, row, { ...charges, kind: 'charges' });
  return getOrder({ ctx, input: { id } });
}

/** What was said of an order beside its deliveries. Error: NotFound. */
export async function listOrderEntries({ ctx, input: { id } }: { ctx: Ctx; input: { id: string } }) {
  await orderRow(ctx, id);
  return entriesOf(ctx, id);
}

/** What an order cost, against what its quote said. Error: NotFound. */
export async function costOfOrder({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<OrderCost> {
  const { list, state } = await orderRow(ctx, id);
  const receipts = await receiptsOf(ctx, id);
  const entries = await entriesOf(ctx, id);
  return costOf(
    list,
    receipts.map(({ body }) => body),
    entries.map(({ body }) => body),
    state === 'cancelled',
  );
}
