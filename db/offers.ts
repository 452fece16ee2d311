import { and, asc, eq, gt, inArray, sql } from 'drizzle-orm';
import type { Finding } from '../worker/engine/model/finding.ts';
import { offerParts as partsOf, type Offer } from '../worker/engine/model/offer.ts';
import { renamedInOffer } from '../worker/engine/model/renamedParts.ts';
import { plusDays } from '../worker/engine/units/day.ts';
import { together, type Change } from './bulk.ts';
import { catalogue } from './catalogue.ts';
import { recordAll, type Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { keepGone, keepPrices, olderFaults, todayOf } from './offerPrices.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { partsMeant } from './partsOfNumbers.ts';
import { unknownByEntry } from './references.ts';
import { dropOfferWords, keepOfferWords } from './search/keep.ts';
import { offerParts, offers as table, parts } from './schema/index.ts';
import { byDay, byWords } from './sorting.ts';

export const offers = catalogue({
  table,
  word: 'offer',
  proposed: true,
  asMeant: async (ctx, bodies) => {
    const named = bodies.flatMap((offer) => partsOf(offer).map(({ part }) => part));
    const meant = await partsMeant({ ctx, input: named });
    return bodies.map((offer) => renamedInOffer(offer, meant));
  },
  columns: (offer) => ({ supplierCode: offer.supplier, seenOn: offer.seenOn ?? null }),
  // All is looked up before anything is refused, so that all faults come at once.
  faults: async (ctx, bodies) =>
    together([await unknownInOffers(ctx, bodies), await olderFaults(ctx, bodies)]),
  filters: {
    supplier: (_ctx, supplier) => eq(table.supplierCode, supplier),
    part: (ctx, part) =>
      sql`exists (select 1 from ${offerParts} o where o.club_id = ${ctx.club} and o.offer_code = ${table.code} and o.part_code = ${part})`,
    kind: (ctx, kind) =>
      sql`exists (select 1 from ${offerParts} o join ${parts} p on p.club_id = o.club_id and p.code = o.part_code where o.club_id = ${ctx.club} and o.offer_code = ${table.code} and p.kind = ${kind})`,
    // The very words of the index, by which the oldest are found.
    stale: (ctx, days) =>
      sql`coalesce(${table.seenOn}, date '0001-01-01') <= ${plusDays(todayOf(ctx), -Number(days))}::date`,
  },
  sorts: {
    // A kit by the first of its parts.
    name: byWords(
      sql`coalesce((select min(lower((p.body ->> 'description') collate "C")) from ${offerParts} o join ${parts} p on p.club_id = o.club_id and p.code = o.part_code where o.club_id = ${table.clubId} and o.offer_code = ${table.code}), '')`,
    ),
    seen: byDay(sql`coalesce(${table.seenOn}, date '0001-01-01')`),
  },
  after: [keepSold, keepPrices, keepOfferWords],
  removed: [keepGone, dropOfferWords],
});

/** What offers name and the club does not have, by code. */
export function unknownInOffers(ctx: Ctx, bodies: readonly Offer[]): Promise<Map<string, Finding[]>> {
  return unknownByEntry(
    ctx,
    bodies.map((offer) => ({
      key: offer.code,
      names: [
        { word: 'supplier', named: [{ code: offer.supplier, path: ['supplier'] }] },
        { word: 'part', named: partsOf(offer).map(({ part, path }) => ({ code: part, path })) },
      ],
    })),
  );
}

/** Keeps which parts offers sell. */
async function keepSold(ctx: Ctx, changes: readonly Change<Offer>[]): Promise<void> {
  // What an offer sells seldom changes with its price.
  const others = changes.filter(({ body, before }) => before === undefined || sold(body) !== sold(before));
  const changed = others.flatMap(({ body, before }) => (before === undefined ? [] : [body.code]));
  if (changed.length > 0)
    await ctx.tx
      .delete(offerParts)
      .where(and(eq(offerParts.clubId, ctx.club), inArray(offerParts.offerCode, changed)));
  const rows = others.flatMap(({ body: offer }) =>
    partsOf(offer).map(({ part }) => ({ clubId: ctx.club, offerCode: offer.code, partCode: part })),
  );
  // One part may stand in an old kit twice over.
  await insertMany(ctx, offerParts, rows, sql`on conflict do nothing`);
}

/** The parts that an offer sells, in one text. */
const sold = (offer: Offer) =>
  partsOf(offer)
    .map(({ part }) => part)
    .join();

/** Those of these offers that are there, by code; nothing is held. */
export async function offersByCode({
  ctx,
  input: { codes },
}: {
  ctx: Ctx;
  input: { codes: readonly string[] };
}): Promise<Map<string, Offer>> {
  if (codes.length === 0) return new Map();
  const rows = await ctx.tx
    .select({ code: table.code, body: table.body })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.code, [...codes])));
  return new Map(rows.map(({ code, body }) => [code, body]));
}

/** Codes of a supplier's offers, by code. */
export async function codesOfSupplier({
  ctx,
  input: { supplier, limit, after },
}: {
  ctx: Ctx;
  input: PageInput & { supplier: string };
}): Promise<Page<string>> {
  const rows = await ctx.tx
    .select({ code: table.code })
    .from(table)
    .where(
      and(
        eq(table.clubId, ctx.club),
        eq(table.supplierCode, supplier),
        after === undefined ? undefined : gt(table.code, after),
      ),
    )
    .orderBy(asc(table.code))
    .limit(limit + 1);
  return pageOf(
    rows,
    limit,
    ({ code }) => code,
    ({ code }) => code,
  );
}

/** Removes offers that are there, at most some thousands; their prices stay. */
export async function removeOffers({
  ctx,
  input: { codes },
}: {
  ctx: Ctx;
  input: { codes: readonly string[] };
}): Promise<void> {
  if (codes.length === 0) return;
  await keepGone(ctx, codes);
  const gone = await ctx.tx
    .delete(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.code, [...codes])))
    .returning({ code: table.code, body: table.body });
  await recordAll(
    ctx,
    gone.map(({ code, body }) => ({ action: 'offer.remove', subject: code, before: body })),
  );
}
