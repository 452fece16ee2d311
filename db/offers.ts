import { and, eq } from 'drizzle-orm';
import { offerParts as partsOf, type Offer } from '../worker/engine/model/offer.ts';
import { catalogue } from './catalogue.ts';
import type { Ctx } from './club.ts';
import { Invalid } from './errors.ts';
import { unknownNames } from './references.ts';
import { offerParts, offers as table } from './schema/index.ts';

export const offers = catalogue({
  table,
  word: 'offer',
  columns: (offer) => ({ supplierCode: offer.supplier }),
  check: checkNames,
  after: keepParts,
});

/** Both kinds of name are looked up before either is refused, so that all faults come at once. */
async function checkNames(ctx: Ctx, offer: Offer): Promise<void> {
  const findings = [
    ...(await unknownNames(ctx, 'supplier', [{ code: offer.supplier, path: ['supplier'] }])),
    ...(await unknownNames(
      ctx,
      'part',
      partsOf(offer).map(({ part, path }) => ({ code: part, path })),
    )),
  ];
  if (findings.length > 0) throw new Invalid(findings);
}

async function keepParts(ctx: Ctx, offer: Offer): Promise<void> {
  await ctx.tx
    .delete(offerParts)
    .where(and(eq(offerParts.clubId, ctx.club), eq(offerParts.offerCode, offer.code)));
  await ctx.tx
    .insert(offerParts)
    .values(partsOf(offer).map(({ part }) => ({ clubId: ctx.club, offerCode: offer.code, partCode: part })));
}
