import { and, eq, ne, or } from 'drizzle-orm';
import { boughtAs } from '../worker/engine/model/boughtStock.ts';
import { takenOf, whyNotFree, type KeptStock } from '../worker/engine/model/reservation.ts';
import type { FromStock, Result } from '../worker/engine/model/result.ts';
import { plusDays } from '../worker/engine/units/day.ts';
import { privateToOf, record, type Ctx } from './club.ts';
import { Conflict } from './errors.ts';
import { heirsOf } from './heirs.ts';
import { requireMayOrder } from './mayOrder.ts';
import { getQuote } from './quotes.ts';
import { todayOf } from './offerPrices.ts';
import { aloneOnShelf, endKept, firstOf, keepAtLeast, keepMore, keptFor, letGoOf } from './reservations.ts';
import { orders, quotes } from './schema/index.ts';
import { stock } from './stock.ts';

const MOST_NAMED = 10;

/**
 * Keeps for a quote what it takes off the shelf. Error: Conflict where that is not free any more, with what has become of it.
 * What is on its way, cut or built in already is no stock item. The caller is alone on the shelf.
 */
export async function keepOffShelf(
  ctx: Ctx,
  { id, restOf }: { id: string; restOf: string | null },
  { fromStock }: Pick<Result, 'fromStock'>,
  until?: string,
): Promise<void> {
  const first = restOf ?? id;
  await keepUntil(ctx, first, until);
  if (fromStock.length === 0) return;
  const wanted = takenOf(fromStock);
  const codes = [...wanted.keys()];
  const there = await stock.some({ ctx, input: codes });
  const others = await keptFor(ctx, { but: first, codes });
  const heirs = await heirsOf({ ctx });
  const said = new Map<string, FromStock>(fromStock.map((each) => [each.stock, each]));
  const real = [...said.values()].filter(
    ({ stock: code }) => there.has(code) || restOf === null || boughtAs(code) === undefined,
  );
  const missing = real.flatMap((each) => {
    const { stock: code, part } = each;
    const why = whyNotFree(
      each,
      heirs.get(part) ?? part,
      wanted.get(code) ?? 0,
      there.get(code),
      others.get(code) ?? 0,
    );
    return why === undefined ? [] : [`${code}: ${why}`];
  });
  if (missing.length > 0)
    throw new Conflict(
      'stock-changed',
      `The shelf has changed since this quote. ${missing.slice(0, MOST_NAMED).join('. ')}${missing.length > MOST_NAMED ? `. And ${missing.length - MOST_NAMED} more` : ''}. Nothing was ordered. Ask for the quote again: POST /v1/quotes/${id}/again.`,
    );
  await keepAtLeast(ctx, first, new Map(real.map(({ stock: code }) => [code, wanted.get(code) ?? 0])), until);
}

/** Until which day things are kept for a quote; left out: as was said before, or without end. */
export async function keepUntil(ctx: Ctx, first: string, until: string | undefined): Promise<void> {
  if (until !== undefined) await endKept(ctx, first, until);
  const before = await untilOf(ctx, first);
  const lapsed = before !== null && before < todayOf(ctx);
  if (lapsed) await letGoOf(ctx, first);
  await setKeepUntil(ctx, first, until ?? (lapsed ? null : before));
}

async function untilOf(ctx: Ctx, first: string): Promise<string | null> {
  const [row] = await ctx.tx
    .select({ until: quotes.keepUntil })
    .from(quotes)
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, first)));
  return row?.until ?? null;
}

async function setKeepUntil(ctx: Ctx, first: string, keepUntil: string | null): Promise<void> {
  await ctx.tx
    .update(quotes)
    .set({ keepUntil })
    .where(and(eq(quotes.clubId, ctx.club), eq(quotes.id, first)));
}

/** Keeps for a quote what came for it and is needed, unless nothing is kept for it any more. */
export async function keepArrived(
  ctx: Ctx,
  quote: string,
  came: readonly { item: { code: string }; needed: number }[],
): Promise<void> {
  const first = await firstOf(ctx, quote);
  const until = (await untilOf(ctx, first)) ?? undefined;
  if (until !== undefined && until < todayOf(ctx)) return;
  const more = takenOf(came.map(({ item, needed }) => ({ stock: item.code, count: needed })));
  await keepMore(ctx, first, new Map([...more].filter(([, count]) => count > 0)), until);
}

/** Lets go of what is kept for a quote, also of what is still to come for it; gives it. Errors: NotFound; Forbidden for another’s quote. */
export async function releaseStock({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<KeptStock[]> {
  await requireMayOrder(ctx, id);
  await aloneOnShelf(ctx);
  const first = await firstOf(ctx, id);
  await setKeepUntil(ctx, first, plusDays(todayOf(ctx), -1));
  return release(ctx, first);
}

/** Where no order of a quote and of those for its rest is left, it has lapsed. */
export async function lapseWithout(ctx: Ctx, quote: string): Promise<void> {
  const first = await firstOf(ctx, quote);
  const [left] = await ctx.tx
    .select({ id: orders.id })
    .from(orders)
    .innerJoin(quotes, and(eq(quotes.clubId, orders.clubId), eq(quotes.id, orders.quoteId)))
    .where(
      and(
        eq(orders.clubId, ctx.club),
        or(eq(quotes.id, first), eq(quotes.restOf, first)),
        ne(orders.state, 'cancelled'),
      ),
    )
    .limit(1);
  if (left) return;
  await aloneOnShelf(ctx);
  await release(ctx, first);
}

async function release(ctx: Ctx, first: string): Promise<KeptStock[]> {
  const letGo = await letGoOf(ctx, first);
  if (letGo.length === 0) return letGo;
  const { quote } = await getQuote({ ctx, input: { id: first } });
  await record(ctx, 'quote.release', first, { before: letGo, privateTo: privateToOf(quote) });
  return letGo;
}
