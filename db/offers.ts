import { and, eq, inArray } from 'drizzle-orm';
import { offerParts as partsOf } from '../worker/engine/model/offer.ts';
import { catalogue } from './catalogue.ts';
import { insertMany } from './insertMany.ts';
import { unknownByEntry } from './references.ts';
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
  after: async (ctx, changes) => {
    const changed = changes.flatMap(({ body, before }) => (before === undefined ? [] : [body.code]));
    if (changed.length > 0)
      await ctx.tx
        .delete(offerParts)
        .where(and(eq(offerParts.clubId, ctx.club), inArray(offerParts.offerCode, changed)));
    const rows = changes.flatMap(({ body: offer }) =>
      partsOf(offer).map(({ part }) => ({ clubId: ctx.club, offerCode: offer.code, partCode: part })),
    );
    await insertMany(ctx, offerParts, rows);
  },
});
