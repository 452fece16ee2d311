import { and, eq, inArray, sql } from 'drizzle-orm';
import { offerParts as partsOf, type Offer } from '../worker/engine/model/offer.ts';
import { renamedInOffer } from '../worker/engine/model/renamedParts.ts';
import type { Change } from './bulk.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { heirsOf } from './heirs.ts';
import { insertMany } from './insertMany.ts';
import { unknownByEntry } from './references.ts';
import { offerParts, offers as table } from './schema/index.ts';

export const offers = catalogue({
  table,
  word: 'offer',
  proposed: true,
  asMeant: async (ctx, bodies) => {
    const heirs = await heirsOf({ ctx });
    return bodies.map((offer) => renamedInOffer(offer, heirs));
  },
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
  after: [keepSold],
});

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
