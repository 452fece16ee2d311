import { lineStates, receiptFaults, stateAfter } from '../worker/engine/model/orderLines.ts';
import { paidForGoods } from '../worker/engine/model/orderCost.ts';
import { shelvedOf, type Shelved } from '../worker/engine/model/orderGoods.ts';
import type { OrderLineState, ReceiptIn } from '../worker/engine/model/order.ts';
import type { OrderList } from '../worker/engine/model/result.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import { splitWorth } from '../worker/engine/model/worth.ts';
import type { Ctx } from './club.ts';
import { Conflict, Invalid } from './errors.ts';
import { heirsOf } from './heirs.ts';
import { keepArrived } from './keepForQuote.ts';
import { putOnShelf } from './ledger.ts';
import { requireMayOrder } from './mayOrder.ts';
import { todayOf } from './offerPrices.ts';
import { getOrder, orderRow, receiptsOf, recordOrder, setState, type StoredOrder } from './orders.ts';
import { parts } from './parts.ts';
import { updateOffers } from './paidPrices.ts';
import { aloneOnShelf } from './reservations.ts';
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
  const earlier = await receiptsOf(ctx, id);
  if (receipt.number !== undefined && earlier.some(({ number }) => number === receipt.number))
    throw new Conflict(
      'receipt-twice',
      `The delivery ${receipt.number} of order ${row.number} is entered already. Nothing was stored.`,
    );
  const before = lineStates(
    row.list.lines,
    earlier.map(({ body }) => body),
  );
  const findings = receiptFaults(before, receipt, paidIn(row.list));
  if (findings.length > 0) throw new Invalid(findings);
  const body = { ...receipt, day: receipt.day ?? todayOf(ctx) };
  // Before the shelf is held: whoever changes many offers and stock items at once takes them in this order.
  await updateOffers(ctx, row.list, body);
  await aloneOnShelf(ctx);
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
  const came = await shelve(ctx, row, { receipt, before }, owner);
  await keepArrived(ctx, row.quoteId, came);
  const shelved = came.map(({ item }) => item);
  const after = lineStates(row.list.lines, [...earlier.map(({ body }) => body), receipt]);
  await setState(ctx, row, stateAfter(after));
  return { order: await getOrder({ ctx, input: { id } }), shelved };
}

/** By what the cost of a line is shared out: by pieces, or by length. */
const weightOf = (shelved: Shelved): number =>
  shelved.count * (shelved.form === 'length' ? shelved.lengthMm : 1);

/** Puts what is right of a delivery on the shelf; gives the items. */
async function shelve(
  ctx: Ctx,
  { id, number, goods, list }: Awaited<ReturnType<typeof orderRow>>,
  { receipt: { lines }, before }: { receipt: ReceiptIn; before: readonly OrderLineState[] },
  owner: { id: string; name: string } | null,
): Promise<{ item: StockItem; needed: number }[]> {
  const heirs = await heirsOf({ ctx });
  const came = lines.flatMap((line) => {
    const of = goods.find((each) => each.line === line.line);
    const ordered = list.lines.find((each) => each.line === line.line);
    if (!of || !ordered) return [];
    const earlier = before[line.line - 1]?.arrived ?? 0;
    const shelved = shelvedOf(of, line, earlier);
    const worth = splitWorth(paidForGoods(list, ordered, line, earlier), shelved.map(weightOf));
    return shelved.map((each, index) => ({
      ...each,
      part: heirs.get(each.part) ?? each.part,
      line,
      worth: worth[index],
    }));
  });
  const there = await parts.some({ ctx, input: [...new Set(came.map(({ part }) => part))] });
  const gone = came.find(({ part }) => !there.has(part));
  if (gone)
    throw new Conflict(
      'part-gone',
      `The part ${gone.part} of line ${gone.line.line} was removed from the catalogue since it was ordered. Nothing was stored. Add it again, then enter the delivery.`,
    );
  const items: { item: StockItem; needed: number }[] = [];
  for (const { line, needed, worth, ...shelved } of came) {
    const item = {
      ...shelved,
      code: 'new',
      ...(owner ? { owner: owner.name } : {}),
      ...(line.place === undefined ? {} : { place: line.place }),
    };
    const root = `order-${number}-${line.line}`;
    const ofLength = shelved.form === 'length' ? `-${shelved.lengthMm}` : `-${shelved.part}`.slice(0, 40);
    const put = await putOnShelf(ctx, {
      root: `${root}${ofLength}`,
      item,
      ownerId: owner?.id ?? null,
      kind: 'received',
      body: { order: id, line: line.line, ...(worth ? { worth } : {}) },
    });
    items.push({ item: put, needed });
  }
  return items;
}

/** The deliveries of an order as they were entered, the first first. Error: NotFound. */
export async function listReceipts({ ctx, input: { id } }: { ctx: Ctx; input: { id: string } }) {
  await orderRow(ctx, id);
  return receiptsOf(ctx, id);
}
