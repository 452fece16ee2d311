import { and, desc, eq, getTableColumns, inArray, lte, sql } from 'drizzle-orm';
import { pointer, type Finding } from '../worker/engine/model/finding.ts';
import { offerParts as partsOf, type Offer } from '../worker/engine/model/offer.ts';
import {
  knownSince,
  putBefore,
  putIn,
  type HistoryEnd,
  type Kept,
  type KeptPrice,
} from '../worker/engine/model/priceHistory.ts';
import type { Change } from './bulk.ts';
import type { Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { offerPriceParts, offerPrices as table, parts } from './schema/index.ts';

type PriceRow = typeof table.$inferSelect;

/** Parts that are looked up at once. */
const PARTS_AT_ONCE = 5_000;

export const todayOf = (ctx: Ctx) => ctx.now().toISOString().slice(0, 10);

/** A row as the model has it. */
export function keptOf(row: PriceRow): KeptPrice {
  const { number, seenFirst: first, seenLast: last, seen, goneOn, body, putInAt: at, putInBy: by } = row;
  return { number, first, last, seen, goneOn: goneOn ?? undefined, body, putIn: { at, by } };
}

/** Keeps the price of offers that were written. */
export async function keepPrices(ctx: Ctx, written: readonly Change<Offer>[]): Promise<void> {
  const ends = await endsOf(
    ctx,
    written.map(({ body }) => body.code),
  );
  const changes = written.filter((change) => !isRestored(change, endIn(ends, change.body.code)));
  const today = todayOf(ctx);
  await store(
    ctx,
    changes.map(({ body }) => ({ offer: body.code, ...putIn(endIn(ends, body.code), body, today) })),
  );
  await keepParts(
    ctx,
    changes.map(({ body }) => body),
  );
}

/** Whether an offer comes back to prices that were restored before it: where one is removed, its last price is gone. */
const isRestored = ({ before }: Change<Offer>, { newest }: HistoryEnd) =>
  before === undefined && newest !== undefined && newest.goneOn === undefined;

/** Writes prices as they were kept before, of offers that are to come back or are gone. Parts that are gone stay away. */
export async function restorePrices(ctx: Ctx, rows: readonly PriceRow[]): Promise<void> {
  await insertMany(ctx, table, rows);
  const bodies = rows.map(({ body }) => body);
  const named = [...new Set(bodies.flatMap((offer) => partsOf(offer).map(({ part }) => part)))];
  const there = new Set<string>();
  for (let start = 0; start < named.length; start += PARTS_AT_ONCE) {
    const codes = named.slice(start, start + PARTS_AT_ONCE);
    const found = await ctx.tx
      .select({ code: parts.code })
      .from(parts)
      .where(and(eq(parts.clubId, ctx.club), inArray(parts.code, codes)));
    for (const { code } of found) there.add(code);
  }
  await keepParts(ctx, bodies, (part) => there.has(part));
}

/** Says of the last prices of offers that are removed when that was. */
export async function keepGone(ctx: Ctx, codes: readonly string[]): Promise<void> {
  const ends = await endsOf(ctx, codes);
  const today = todayOf(ctx);
  await store(
    ctx,
    [...ends].flatMap(([offer, { newest }]) =>
      newest && newest.goneOn === undefined
        ? [{ offer, add: [], change: [{ ...newest, goneOn: newest.last > today ? newest.last : today }] }]
        : [],
    ),
  );
}

/** A finding for each offer that was seen before a price that is known, by code. */
export async function olderFaults(ctx: Ctx, bodies: readonly Offer[]): Promise<Map<string, Finding[]>> {
  const dated = bodies.filter(({ seenOn }) => seenOn !== undefined);
  const ends = await endsOf(
    ctx,
    dated.map(({ code }) => code),
  );
  return new Map(
    dated.flatMap((offer) => {
      const since = knownSince(endIn(ends, offer.code), offer);
      return since === undefined ? [] : [[offer.code, [older(offer, since)]]];
    }),
  );
}

function older({ code, seenOn }: Offer, since: string): Finding {
  return {
    code: 'older-price',
    severity: 'stop',
    at: pointer(['seenOn']),
    where: 'seenOn',
    found: JSON.stringify(seenOn),
    limit: since,
    todo: `The stored price of ${code} was seen on ${since}, so this one is older. To keep it as a past price, send PUT /v1/offers/${code}?older=keep: the offer stays as it is. If the stored day or price is wrong, send it with older=correct.`,
  };
}

/** Adds a past price to an offer's history; the offer stays as it is. */
export async function keepPast(ctx: Ctx, body: Offer, day: string): Promise<void> {
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(ofOffers(ctx, [body.code]));
  await store(ctx, [{ offer: body.code, ...putBefore(rows.map(keptOf), body, day) }]);
  await keepParts(ctx, [body]);
}

/** The end of an offer's history. */
export async function endOf(ctx: Ctx, code: string): Promise<HistoryEnd> {
  return endIn(await endsOf(ctx, [code]), code);
}

/** Takes the last price of an offer out of its history: it was wrong, and another takes its place. */
export async function forgetNewest(ctx: Ctx, code: string): Promise<void> {
  const { newest } = await endOf(ctx, code);
  if (newest) await ctx.tx.delete(table).where(and(ofOffers(ctx, [code]), eq(table.number, newest.number)));
}

const ofOffers = (ctx: Ctx, codes: readonly string[]) =>
  and(eq(table.clubId, ctx.club), inArray(table.offerCode, [...codes]));

const NO_HISTORY: HistoryEnd = { newest: undefined, previous: undefined, next: 1 };
const endIn = (ends: ReadonlyMap<string, HistoryEnd>, code: string) => ends.get(code) ?? NO_HISTORY;

/** The last two prices of each of these offers, and the number of the next one. At most some thousands. */
async function endsOf(ctx: Ctx, codes: readonly string[]): Promise<Map<string, HistoryEnd>> {
  if (codes.length === 0) return new Map();
  const inTime = [desc(table.seenFirst), desc(table.number)];
  const ranked = ctx.tx
    .select({
      ...getTableColumns(table),
      place:
        sql<number>`row_number() over (partition by ${table.offerCode} order by ${sql.join(inTime, sql`, `)})`
          .mapWith(Number)
          .as('place'),
      most: sql<number>`max(${table.number}) over (partition by ${table.offerCode})`
        .mapWith(Number)
        .as('most'),
    })
    .from(table)
    .where(ofOffers(ctx, codes))
    .as('ranked');
  const rows = await ctx.tx.select().from(ranked).where(lte(ranked.place, 2));
  const ends = new Map<string, HistoryEnd>();
  for (const row of rows) {
    const end = { ...endIn(ends, row.offerCode), next: row.most + 1 };
    ends.set(row.offerCode, { ...end, [row.place === 1 ? 'newest' : 'previous']: keptOf(row) });
  }
  return ends;
}

/** Writes what becomes of histories. */
async function store(ctx: Ctx, kept: readonly (Kept & { offer: string })[]): Promise<void> {
  const now = ctx.now();
  const rowOf = (offer: string, { number, first, last, seen, goneOn, body, putIn }: KeptPrice) => ({
    clubId: ctx.club,
    offerCode: offer,
    number,
    seenFirst: first,
    seenLast: last,
    seen,
    goneOn: goneOn ?? null,
    putInAt: putIn?.at ?? now,
    putInBy: putIn ? putIn.by : ctx.actor,
    body,
  });
  const rows = (which: 'add' | 'change') =>
    kept.flatMap(({ offer, ...each }) => each[which].map((price) => rowOf(offer, price)));
  await insertMany(ctx, table, rows('add'));
  // Of what is kept already only its days change.
  await insertMany(
    ctx,
    table,
    rows('change'),
    sql`on conflict (club_id, offer_code, number) do update set seen_first = excluded.seen_first, seen_last = excluded.seen_last, seen = excluded.seen, gone_on = excluded.gone_on`,
  );
}

async function keepParts(
  ctx: Ctx,
  bodies: readonly Offer[],
  isThere: (part: string) => boolean = () => true,
): Promise<void> {
  const rows = bodies.flatMap((offer) =>
    partsOf(offer)
      .filter(({ part }) => isThere(part))
      .map(({ part }) => ({ clubId: ctx.club, partCode: part, offerCode: offer.code })),
  );
  await insertMany(ctx, offerPriceParts, rows, sql`on conflict do nothing`);
}
