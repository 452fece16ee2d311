import { and, asc, desc, eq, gte, inArray, isNull, lt, ne, or, sql, sum, type SQL } from 'drizzle-orm';
import { byCode } from '../worker/engine/model/code.ts';
import type { KeptStock, Reservation } from '../worker/engine/model/reservation.ts';
import { namesOf } from './actors.ts';
import { recordAll, type Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { todayOf } from './offerPrices.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { quotes, reservations as table, stock } from './schema/index.ts';

/**
 * What is kept on the shelf for accepted quotes: never more of an item than is there. A quote and the quotes for its rest share
 * what is kept, under the id of the first of them.
 */

/**
 * Waits until nobody else of the club moves anything on the shelf. Taken before any row of it, so that of two who take the same
 * one waits, and never each for the other.
 */
export async function aloneOnShelf(ctx: Ctx): Promise<void> {
  await ctx.tx.execute(sql`select pg_advisory_xact_lock(hashtextextended(${`shelf ${ctx.club}`}, 0))`);
}

/** Not those that have lapsed. */
const holds = (ctx: Ctx): SQL | undefined => or(isNull(table.until), gte(table.until, todayOf(ctx)));

/** How many of each item are kept, but for those that are kept for this quote. `codes` left out: of all items. */
export async function keptFor(
  ctx: Ctx,
  { but, codes }: { but: string | null; codes?: readonly string[] },
): Promise<Map<string, number>> {
  if (codes?.length === 0) return new Map();
  const rows = await ctx.tx
    .select({ code: table.stockCode, count: sum(table.count).mapWith(Number) })
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        holds(ctx),
        but === null ? undefined : ne(table.quoteId, but),
        codes === undefined ? undefined : inArray(table.stockCode, [...codes]),
      ),
    )
    .groupBy(table.stockCode);
  return new Map(rows.map(({ code, count }) => [code, count]));
}

/** The first of the quotes for the same looms, by any of them. */
export async function firstOf(ctx: Ctx, quote: string): Promise<string> {
  const [row] = await ctx.tx
    .select({ restOf: quotes.restOf })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, quote)));
  return row?.restOf ?? quote;
}

/** Keeps so many of each item for a quote: what is kept for it already counts. The caller has looked that they are free. */
export async function keepAtLeast(
  ctx: Ctx,
  quote: string,
  wanted: ReadonlyMap<string, number>,
  until?: string,
): Promise<void> {
  const has = await keptOf(ctx, quote);
  await setKept(
    ctx,
    quote,
    new Map([...wanted].map(([code, count]) => [code, Math.max(count, has.get(code) ?? 0)])),
    until,
  );
}

/** Keeps so many more of each item for a quote. */
export async function keepMore(
  ctx: Ctx,
  quote: string,
  more: ReadonlyMap<string, number>,
  until?: string,
): Promise<void> {
  const has = await keptOf(ctx, quote);
  const counts = new Map([...more].map(([code, count]) => [code, count + (has.get(code) ?? 0)]));
  await setKept(ctx, quote, counts, until);
}

/** What was kept for this quote and is taken now is kept no more. */
export async function takeKept(ctx: Ctx, quote: string, code: string, count: number): Promise<void> {
  const has = (await keptOf(ctx, quote)).get(code) ?? 0;
  if (has > 0) await setKept(ctx, quote, new Map([[code, Math.max(0, has - count)]]));
}

/** How many of an item are kept for a quote. */
export async function keptOfItem(ctx: Ctx, quote: string, code: string): Promise<number> {
  return (await keptOf(ctx, quote)).get(code) ?? 0;
}

/** What is kept for a quote, by item. */
async function keptOf(ctx: Ctx, quote: string): Promise<Map<string, number>> {
  const rows = await ctx.tx
    .select({ code: table.stockCode, count: table.count })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.quoteId, quote), holds(ctx)));
  return new Map(rows.map(({ code, count }) => [code, count]));
}

/** Sets how many of each item are kept for a quote. What is kept already stays as old as it is. */
async function setKept(
  ctx: Ctx,
  quote: string,
  counts: ReadonlyMap<string, number>,
  until?: string,
): Promise<void> {
  if (counts.size === 0) return;
  const own = and(eq(table.clubId, ctx.club), eq(table.quoteId, quote));
  const rows = await ctx.tx
    .select({ code: table.stockCode, count: table.count })
    .from(table)
    .where(and(own, inArray(table.stockCode, [...counts.keys()])));
  const before = new Map(rows.map(({ code, count }) => [code, count]));
  for (const [code, count] of counts) {
    const one = and(own, eq(table.stockCode, code));
    if (!before.has(code)) continue;
    if (count === 0) await ctx.tx.delete(table).where(one);
    else
      await ctx.tx
        .update(table)
        .set({ count, ...(until === undefined ? {} : { until }) })
        .where(one);
  }
  await insertMany(
    ctx,
    table,
    [...counts]
      .filter(([code, count]) => count > 0 && !before.has(code))
      .map(([stockCode, count]) => ({
        clubId: ctx.club,
        stockCode,
        quoteId: quote,
        id: ctx.newId(),
        count,
        until: until ?? null,
        madeAt: ctx.now(),
        madeBy: ctx.actor,
      })),
  );
}

/**
 * No more is kept of an item than is there: the last that were kept are let go first. Gives how many were let go, which the
 * record tells as well.
 */
export async function keepNoMoreThan(ctx: Ctx, code: string, count: number): Promise<number> {
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.stockCode, code)))
    .orderBy(asc(table.id));
  const lapsed = rows.filter(({ until }) => until !== null && until < todayOf(ctx));
  let left = count;
  let letGo = 0;
  for (const row of rows) {
    const stays = lapsed.includes(row) ? 0 : Math.min(row.count, left);
    left -= stays;
    if (stays === row.count) continue;
    if (!lapsed.includes(row)) letGo += row.count - stays;
    const one = and(eq(table.clubId, ctx.club), eq(table.id, row.id));
    if (stays === 0) await ctx.tx.delete(table).where(one);
    else await ctx.tx.update(table).set({ count: stays }).where(one);
  }
  if (letGo > 0)
    await recordAll(ctx, [
      {
        action: 'stock-item.release',
        subject: code,
        before: { kept: count - left + letGo },
        after: { kept: count - left },
      },
    ]);
  return letGo;
}

/** What is kept for a quote is kept until this day. */
export async function endKept(ctx: Ctx, quote: string, until: string): Promise<void> {
  await ctx.tx
    .update(table)
    .set({ until })
    .where(and(eq(table.clubId, ctx.club), eq(table.quoteId, quote)));
}

/** Lets go of all that is kept for a quote; gives it by item. */
export async function letGoOf(ctx: Ctx, quote: string): Promise<KeptStock[]> {
  const rows = await ctx.tx
    .delete(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.quoteId, quote)))
    .returning({ stock: table.stockCode, count: table.count });
  return rows.sort((a, b) => byCode(a.stock, b.stock));
}

export interface ReservationsInput extends PageInput {
  stock?: string | undefined;
  quote?: string | undefined;
}

/** What is kept, the newest first. Of a quote that the caller does not see its id is left out. */
export async function listReservations({
  ctx,
  input: { limit, after, stock: code, quote },
}: {
  ctx: Ctx;
  input: ReservationsInput;
}): Promise<Page<Reservation>> {
  const rows = await ctx.tx
    .select({ row: table, part: stock.partCode, seen: quotes.id })
    .from(table)
    .innerJoin(stock, and(eq(stock.clubId, table.clubId), eq(stock.code, table.stockCode)))
    // The policies hide what is another’s alone.
    .leftJoin(quotes, and(eq(quotes.clubId, table.clubId), eq(quotes.id, table.quoteId)))
    .where(
      and(
        eq(table.clubId, ctx.club),
        holds(ctx),
        code === undefined ? undefined : eq(table.stockCode, code),
        quote === undefined ? undefined : eq(quotes.id, await firstOf(ctx, quote)),
        after === undefined ? undefined : lt(table.id, after),
      ),
    )
    .orderBy(desc(table.id))
    .limit(limit + 1);
  const who = await namesOf(
    ctx,
    rows.map(({ row }) => row.madeBy),
  );
  return pageOf(
    rows,
    limit,
    ({ row }) => row.id,
    ({ row, part, seen }) => ({
      stock: row.stockCode,
      part,
      count: row.count,
      ...(seen === null ? {} : { quote: seen, who: who.get(row.madeBy) ?? row.madeBy }),
      ...(row.until === null ? {} : { until: row.until }),
      at: row.madeAt.toISOString(),
    }),
  );
}
