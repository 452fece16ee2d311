import {
  costLines,
  lineStates,
  receiptFaults,
  shelvedOf,
  stateAfter,
} from '../worker/engine/model/orderLines.ts';
import type { OrderCostLine, ReceiptIn } from '../worker/engine/model/order.ts';
import type { OrderList } from '../worker/engine/model/result.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import type { Ctx } from './club.ts';
import { Conflict, Invalid } from './errors.ts';
import { heirsOf } from './heirs.ts';
import { putOnShelf } from './ledger.ts';
import { todayOf } from './offerPrices.ts';
import {
  getOrder,
  orderRow,
  receiptsOf,
  recordOrder,
  requireMayOrder,
  setState,
  type StoredOrder,
} from './orders.ts';
import { parts } from './parts.ts';
import { receipts } from './schema/index.ts';

/** The currency in which the supplier of an order is paid. */
export const paidIn = ({ theirs, total }: Pick<OrderList, 'theirs' | 'total'>): string =>
  theirs?.currency ?? total.currency;

/**
 * What came with a delivery: onto the shelf goes what is right, and the order becomes part received or received. Errors:
 * NotFound; Forbidden for another’s; Invalid for what cannot be; Conflict where the order is not on its way, or the supplier’s
 * number of this delivery is there already.
 */
export async function receive({
  ctx,
  input: { id, receipt },
}: {
  ctx: Ctx;
  input: { id: string; receipt: ReceiptIn };
}): Promise<{ order: StoredOrder; shelved: StockItem[] }> {
  const row = await orderRow(ctx, id, true);
  const stored = await requireMayOrder(ctx, row.quoteId);
  if (row.state === 'draft' || row.state === 'closed' || row.state === 'cancelled')
    throw new Conflict(
      'not-on-its-way',
      row.state === 'draft'
        ? `Order ${row.number} is a draft. Say first that it was sent: POST /v1/orders/${id}/steps with "to": "sent".`
        : `Order ${row.number} is ${row.state}, so nothing comes of it any more. Put what came on the shelf as stock.`,
    );
  const came = await receiptsOf(ctx, id);
  if (receipt.number !== undefined && came.some(({ number }) => number === receipt.number))
    throw new Conflict(
      'receipt-twice',
      `The delivery ${receipt.number} of order ${row.number} is entered already. Nothing was stored.`,
    );
  const before = lineStates(
    row.list.lines,
    came.map(({ body }) => body),
  );
  const findings = receiptFaults(before, receipt, paidIn(row.list));
  if (findings.length > 0) throw new Invalid(findings);
  const body = { ...receipt, day: receipt.day ?? todayOf(ctx) };
  await ctx.tx.insert(receipts).values({
    clubId: ctx.club,
    id: ctx.newId(),
    orderId: id,
    number: receipt.number ?? null,
    body,
    madeAt: ctx.now(),
    madeBy: ctx.actor,
  });
  await recordOrder(ctx, row, 'order.receive', { after: body });
  const owner = stored.quote.ownerId === null ? null : { id: stored.quote.ownerId, name: stored.owner ?? '' };
  const shelved = await shelve(ctx, row, receipt, owner);
  const after = lineStates(row.list.lines, [...came.map(({ body }) => body), receipt]);
  await setState(ctx, row, stateAfter(after));
  return { order: await getOrder({ ctx, input: { id } }), shelved };
}

/** Puts what is right of a delivery on the shelf; gives the items. */
async function shelve(
  ctx: Ctx,
  { id, number, goods }: Awaited<ReturnType<typeof orderRow>>,
  { lines }: ReceiptIn,
  owner: { id: string; name: string } | null,
): Promise<StockItem[]> {
  const heirs = await heirsOf({ ctx });
  const came = lines.flatMap((line) => {
    const of = goods.find((each) => each.line === line.line);
    return of
      ? shelvedOf(of, line).map((each) => ({ ...each, part: heirs.get(each.part) ?? each.part, line }))
      : [];
  });
  const there = await parts.some({ ctx, input: [...new Set(came.map(({ part }) => part))] });
  const gone = came.find(({ part }) => !there.has(part));
  if (gone)
    throw new Conflict(
      'part-gone',
      `The part ${gone.part} of line ${gone.line.line} was removed from the catalogue since it was ordered. Nothing was stored. Add it again, then enter the delivery.`,
    );
  const items: StockItem[] = [];
  for (const { line, ...shelved } of came) {
    const item = {
      ...shelved,
      code: 'new',
      ...(owner ? { owner: owner.name } : {}),
      ...(line.place === undefined ? {} : { place: line.place }),
    };
    const root = `order-${number}-${line.line}`;
    const ofLength = shelved.form === 'length' ? `-${shelved.lengthMm}` : `-${shelved.part}`.slice(0, 40);
    items.push(
      await putOnShelf(ctx, {
        root: `${root}${ofLength}`,
        item,
        ownerId: owner?.id ?? null,
        kind: 'received',
        body: { order: id, line: line.line },
      }),
    );
  }
  return items;
}

/** The deliveries of an order as they were entered, the first first. Error: NotFound. */
export async function listReceipts({ ctx, input: { id } }: { ctx: Ctx; input: { id: string } }) {
  await orderRow(ctx, id);
  return receiptsOf(ctx, id);
}

/** What the goods of an order cost, line by line. Error: NotFound. */
export async function costOfOrder({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<OrderCostLine[]> {
  const { list } = await orderRow(ctx, id);
  const came = await receiptsOf(ctx, id);
  return costLines(
    list.lines,
    came.map(({ body }) => body),
  );
}
