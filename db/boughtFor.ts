import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import { boughtStock } from '../worker/engine/model/boughtStock.ts';
import type { MovementKind } from '../worker/engine/model/movement.ts';
import { lineStates } from '../worker/engine/model/orderLines.ts';
import { renamedInStock } from '../worker/engine/model/renamedParts.ts';
import type { StockItem } from '../worker/engine/model/stock.ts';
import type { Ctx } from './club.ts';
import { heirsOf } from './heirs.ts';
import { parts } from './parts.ts';
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
  const used = await movementsOf(ctx, ['used', 'cut'], 'quote', ids);
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
    used,
    codes,
  );
  return { bought: await asTheyAre(ctx, bought), came: await cameWith(ctx, orderIds) };
}

/** Under the codes that their parts have now. What the catalogue has no more, no loom needs. */
async function asTheyAre(ctx: Ctx, items: readonly StockItem[]): Promise<StockItem[]> {
  const heirs = await heirsOf({ ctx });
  const renamed = items.map((item) => renamedInStock(item, heirs));
  const there = await parts.some({ ctx, input: [...new Set(renamed.map(({ part }) => part))] });
  return renamed.filter(({ part }) => there.has(part));
}

/** The codes of what came with these orders, and of what was left of it where it was cut. */
async function cameWith(ctx: Ctx, orderIds: readonly string[]): Promise<Set<string>> {
  const came = new Set<string>();
  let next = await movementsOf(ctx, ['received'], 'order', orderIds);
  while (next.length > 0) {
    const fresh = [...new Set(next.map(({ stockCode }) => stockCode))].filter((code) => !came.has(code));
    for (const code of fresh) came.add(code);
    next = await movementsOf(ctx, ['offcut'], 'cutFrom', fresh);
  }
  return came;
}

/** Movements of these kinds whose body names one of these. */
async function movementsOf(
  ctx: Ctx,
  kinds: MovementKind[],
  field: 'quote' | 'order' | 'cutFrom',
  names: readonly string[],
) {
  if (names.length === 0) return [];
  return ctx.tx
    .select()
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        inArray(stockMovements.kind, kinds),
        inArray(sql`${stockMovements.body} ->> ${field}::text`, [...names]),
      ),
    )
    .orderBy(asc(stockMovements.id));
}
