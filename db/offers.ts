import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import { offerParts as partsOf, type Offer } from '../worker/engine/model/offer.ts';
import type { Change } from './bulk.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { unknownByEntry } from './references.ts';
import { dropOfferWords, keepOfferWords } from './search/keep.ts';
import { offerParts, offers as table } from './schema/index.ts';

export const offers = catalogue({
  table,
  word: 'offer',
  columns: (offer) => ({ supplierCode: offer.supplier }),
  // Both kinds of name are looked up before either is refused, so that all faults come at once.
  faults: (ctx, bodies) =>
    unknownByEntry(
      ctx,
      bodies.map((offer) => ({
        key: offer.code,
        names: [
          { word: 'supplier', named: [{ code: offer.supplier, path: ['supplier'] }] },
          { word: 'part', named: partsOf(offer).map(({ part, path }) => ({ code: part, path })) },
        ],
      })),
    ),
  filters: {
    supplier: (_ctx, supplier) => eq(table.supplierCode, supplier),
    part: (ctx, part) =>
      sql`exists (select 1 from ${offerParts} o where o.club_id = ${ctx.club} and o.offer_code = ${table.code} and o.part_code = ${part})`,
  },
  after: [keepSold, keepOfferWords],
  removed: [dropOfferWords],
});

/** The offers that sell any of these parts, or are pinned, by code. */
export async function offersThatMatter({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { parts: readonly string[]; pinned: readonly string[] };
}): Promise<Offer[]> {
  // One parameter for any number of codes.
  const among = (column: AnyPgColumn, codes: readonly string[]) =>
    sql`${column} in (select jsonb_array_elements_text(${JSON.stringify(codes)}::text::jsonb))`;
  const selling = ctx.tx
    .select({ code: offerParts.offerCode })
    .from(offerParts)
    .where(and(eq(offerParts.clubId, ctx.club), among(offerParts.partCode, input.parts)));
  const rows = await ctx.tx
    .select({ body: table.body })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), or(inArray(table.code, selling), among(table.code, input.pinned))))
    .orderBy(asc(table.code));
  return rows.map(({ body }) => body);
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
