import { and, asc, eq, gt, sql } from 'drizzle-orm';
import { minorOf, moneyOf } from '../worker/engine/model/orderCost.ts';
import type { Worth } from '../worker/engine/model/worth.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { worthOf } from './ledger.ts';
import type { Page, PageInput } from './page.ts';
import { pageOf } from './page.ts';
import { stock, stockMovements } from './schema/index.ts';

export interface StockValue {
  stock: string;
  part: string;
  count: number;
  worth?: Worth | undefined;
}

/**
 * What was paid for what lies on the shelf, in whole in the club’s currency and item by item, by code; what nobody paid for
 * through an order has no value.
 */
export async function stockValue({
  ctx,
  input: { limit, after },
}: {
  ctx: Ctx;
  input: PageInput;
}): Promise<{ total: Worth; page: Page<StockValue> }> {
  const { currency } = await getClub({ ctx });
  const [all] = await ctx.tx
    .select({
      amount: sql<string | null>`sum((${stockMovements.body} -> 'worth' ->> 'amount')::numeric)::text`,
    })
    .from(stockMovements)
    .where(
      and(
        eq(stockMovements.clubId, ctx.club),
        sql`${stockMovements.body} -> 'worth' ->> 'currency' = ${currency}`,
      ),
    );
  const rows = await ctx.tx
    .select({ body: stock.body })
    .from(stock)
    .where(
      and(
        eq(stock.clubId, ctx.club),
        sql`(${stock.body} ->> 'count')::int > 0`,
        after === undefined ? undefined : gt(stock.code, after),
      ),
    )
    .orderBy(asc(stock.code))
    .limit(limit + 1);
  const worth = await worthOf(
    ctx,
    rows.map(({ body }) => body.code),
  );
  return {
    total: moneyOf(minorOf({ amount: all?.amount ?? '0', currency }), currency),
    page: pageOf(
      rows,
      limit,
      ({ body }) => body.code,
      ({ body: { code, part, count } }) => ({ stock: code, part, count, worth: worth.get(code) }),
    ),
  };
}
