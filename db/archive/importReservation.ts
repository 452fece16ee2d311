import { and, eq, or, sum } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { quotes, reservations as table, stock } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import { reservationEntry } from './exportOrders.ts';
import { notThere } from './notThere.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';

/**
 * Writes what is kept for a quote, where nothing is kept for it of that item. Error: Invalid for a quote or an item that is not
 * there, and where more would be kept than is there.
 */
export async function importReservation(
  ctx: Ctx,
  placed: Placed<EntryOf<'reservation'>>,
  told: Tally,
): Promise<void> {
  const { entry, line } = placed;
  const { stock: stockCode, quote: quoteId, id, count, until, at, actor } = entry;
  const there = await ctx.tx
    .select()
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        or(eq(table.id, id), and(eq(table.stockCode, stockCode), eq(table.quoteId, quoteId))),
      ),
    );
  const [row] = there;
  if (row) {
    const same = there.length === 1 && isSame(reservationEntry(row), entry);
    return told.count(same ? 'equal' : 'differs', placed);
  }
  const [quote] = await ctx.tx
    .select({ id: quotes.id })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, quoteId)));
  if (!quote) throw new Invalid([notThere(line, 'quote', 'the quote', quoteId)]);
  const [item] = await ctx.tx
    .select({ body: stock.body })
    .from(stock)
    .where(and(eq(stock.clubId, ctx.club), eq(stock.code, stockCode)));
  if (!item) throw new Invalid([notThere(line, 'stock', 'the stock item', stockCode)]);
  const [kept] = await ctx.tx
    .select({ count: sum(table.count).mapWith(Number) })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), eq(table.stockCode, stockCode)));
  const free = item.body.count - (kept?.count ?? 0);
  if (count > free)
    throw new Invalid([
      {
        code: 'more-kept-than-there',
        severity: 'stop',
        at: '/count',
        where: `line ${line}, count`,
        found: String(count),
        limit: String(free),
        todo: `Of the stock item ${stockCode} only ${free} can be kept. Take the archive again from where it came.`,
      },
    ]);
  await ctx.tx.insert(table).values({
    clubId: ctx.club,
    stockCode,
    quoteId,
    id,
    count,
    until: until ?? null,
    madeAt: new Date(at),
    madeBy: actor,
  });
  told.count('new', placed);
}
