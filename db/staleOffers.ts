import { and, asc, desc, eq, inArray, isNull, lte, or, sql } from 'drizzle-orm';
import { addTo } from '../worker/engine/model/group.ts';
import type { Offer } from '../worker/engine/model/offer.ts';
import { dayNumber, plusDays } from '../worker/engine/units/day.ts';
import type { Ctx } from './club.ts';
import { todayOf } from './offerPrices.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { offers, quoteOffers, quotes } from './schema/index.ts';

/** An offer that was not seen for a while, with the newest quotes that buy it. */
export interface StaleOffer {
  offer: Offer;
  /** Days since it was seen; undefined where nobody said when that was. */
  days: number | undefined;
  quotes: { id: string; asOf: string }[];
  /** How many quotes buy it in all. */
  quoteCount: number;
}

/** Of each offer so many quotes are told. */
const MOST_QUOTES = 5;
/** Where an offer of which nobody said when it was seen stands. */
const NEVER = '0001-01-01';

const seenDay = sql<string>`coalesce(${offers.seenOn}, date '0001-01-01')`;

/** Offers that were not seen for so many days, those first of which nobody said when, then the oldest. */
export async function staleOffers({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: PageInput & { days: number; usedByQuotes: boolean };
}): Promise<Page<StaleOffer>> {
  const today = todayOf(ctx);
  const [day = NEVER, code = ''] = input.after?.split(' ') ?? [];
  const rows = await ctx.tx
    .select({ offer: offers.body, code: offers.code, seenOn: offers.seenOn })
    .from(offers)
    .where(
      and(
        eq(offers.clubId, ctx.club),
        or(isNull(offers.seenOn), lte(offers.seenOn, plusDays(today, -input.days))),
        input.after === undefined ? undefined : sql`(${seenDay}, ${offers.code}) > (${day}::date, ${code})`,
        input.usedByQuotes
          ? sql`exists (select 1 from ${quoteOffers} where ${quoteOffers.clubId} = ${offers.clubId} and ${quoteOffers.offerCode} = ${offers.code})`
          : undefined,
      ),
    )
    .orderBy(asc(seenDay), asc(offers.code))
    .limit(input.limit + 1);
  const page = pageOf(
    rows,
    input.limit,
    (row) => `${row.seenOn ?? NEVER} ${row.code}`,
    (row) => row,
  );
  const bought = await quotesOf(
    ctx,
    page.items.map((row) => row.code),
  );
  return {
    next: page.next,
    items: page.items.map(({ offer, seenOn }) => {
      const own = bought.get(offer.code) ?? [];
      return {
        offer,
        days: seenOn === null ? undefined : dayNumber(today) - dayNumber(seenOn),
        quotes: own.map(({ id, asOf }) => ({ id, asOf })),
        quoteCount: own[0]?.all ?? 0,
      };
    }),
  };
}

/** The newest quotes that buy each of these offers, and how many there are. */
async function quotesOf(
  ctx: Ctx,
  codes: readonly string[],
): Promise<Map<string, { id: string; asOf: string; all: number }[]>> {
  const found = new Map<string, { id: string; asOf: string; all: number }[]>();
  if (codes.length === 0) return found;
  const ranked = ctx.tx
    .select({
      code: quoteOffers.offerCode,
      id: quotes.id,
      asOf: quotes.asOf,
      place: sql<number>`row_number() over (partition by ${quoteOffers.offerCode} order by ${quotes.id} desc)`
        .mapWith(Number)
        .as('place'),
      all: sql<number>`count(*) over (partition by ${quoteOffers.offerCode})`
        .mapWith(Number)
        .as('all_quotes'),
    })
    .from(quoteOffers)
    .innerJoin(quotes, and(eq(quotes.clubId, quoteOffers.clubId), eq(quotes.id, quoteOffers.quoteId)))
    .where(and(eq(quoteOffers.clubId, ctx.club), inArray(quoteOffers.offerCode, [...codes])))
    .as('ranked');
  const rows = await ctx.tx
    .select()
    .from(ranked)
    .where(lte(ranked.place, MOST_QUOTES))
    .orderBy(desc(ranked.id));
  for (const { code, id, asOf, all } of rows) addTo(found, code, { id, asOf, all });
  return found;
}
