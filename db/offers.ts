import { and, eq, inArray } from 'drizzle-orm';
import { offerParts as partsOf } from '../worker/engine/model/offer.ts';
import { catalogue } from './catalogue.ts';
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
  after: async (ctx, bodies) => {
    const codes = bodies.map(({ code }) => code);
    await ctx.tx
      .delete(offerParts)
      .where(and(eq(offerParts.clubId, ctx.club), inArray(offerParts.offerCode, codes)));
    const rows = bodies.flatMap((offer) =>
      partsOf(offer).map(({ part }) => ({ clubId: ctx.club, offerCode: offer.code, partCode: part })),
    );
    for (let start = 0; start < rows.length; start += CHUNK)
      await ctx.tx.insert(offerParts).values(rows.slice(start, start + CHUNK));
  },
});

/** Rows an insert: a statement takes at most 65,535 parameters. */
const CHUNK = 5_000;
