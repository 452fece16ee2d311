import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import { boughtStock } from '../worker/engine/model/boughtStock.ts';
import { lineStates } from '../worker/engine/model/orderLines.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import type { Ctx } from './club.ts';
import { orders, quotes, receipts, stockMovements } from './schema/index.ts';

/**
 * What is bought for the looms of a quote, by its orders and those of the quotes for its rest, and is not on the shelf, as
 * stock; and the codes of what came with these orders. `codes`: the codes of the stock that there is.
 */
export async function boughtFor({
  ctx,
  input: { quote, codes },
}: {
  ctx: Ctx;
  input: { quote: string; codes: readonly string[] };
}): Promise<{ bought: StockItem[]; came: Set<string> }> {
  const family = await ctx.tx
    .select({ id: quotes.id })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), or(eq(quotes.id, quote), eq(quotes.restOf, quote))));
  const ids = family.map(({ id }) => id);
  const made = await ctx.tx
    .select()
    .from(orders)
    .where(and(eq(orders.clubId, ctx.club), inArray(orders.quoteId, ids)))
    .orderBy(asc(orders.number));
  const orderIds = made.map(({ id }) => id);
  const deliveries = await ctx.tx
    .select({ orderId: receipts.orderId, body: receipts.body })
    .from(receipts)
    .where(and(eq(receipts.clubId, ctx.club), inArray(receipts.orderId, orderIds)))
    .orderBy(asc(receipts.id));
  const moved = await ctx.tx
    .select()
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        or(
          and(inArray(stockMovements.kind, ['used', 'cut']), named('quote', ids)),
          and(eq(stockMovements.kind, 'received'), named('order', orderIds)),
        ),
      ),
    )
    .orderBy(asc(stockMovements.id));
  const bought = boughtStock(
    made.map(({ id, number, state, list, goods }) => ({
      number,
      state,
      supplierName: list.name,
      goods,
      lines: lineStates(
        list.lines,
        deliveries.filter(({ orderId }) => orderId === id).map(({ body }) => body),
      ),
    })),
    moved.filter(({ kind }) => kind !== 'received'),
    codes,
  );
  const came = moved.filter(({ kind }) => kind === 'received').map(({ stockCode }) => stockCode);
  return { bought, came: new Set(came) };
}

/** Rows whose body names one of these. */
const named = (field: 'quote' | 'order', ids: readonly string[]) =>
  inArray(sql`${stockMovements.body} ->> ${field}::text`, [...ids]);
