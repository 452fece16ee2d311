import { and, asc, eq } from 'drizzle-orm';
import { addTo } from '../worker/engine/model/group.ts';
import { priceCourse, type PriceCourse } from '../worker/engine/model/priceCourse.ts';
import type { KeptPrice } from '../worker/engine/model/priceHistory.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { keptOf, todayOf } from './offerPrices.ts';
import { parts } from './parts.ts';
import { rates } from './rates.ts';
import { offerPriceParts, offerPrices, suppliers } from './schema/index.ts';

/** The prices of a part at all its suppliers, also of offers that are gone. Error: NotFound. */
export async function courseOfPart({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { code: string };
}): Promise<PriceCourse> {
  const { body: part } = await parts.get({ ctx, input });
  const { currency } = await getClub({ ctx });
  const rows = await ctx.tx
    .select({ price: offerPrices })
    .from(offerPriceParts)
    .innerJoin(
      offerPrices,
      and(
        eq(offerPrices.clubId, offerPriceParts.clubId),
        eq(offerPrices.offerCode, offerPriceParts.offerCode),
      ),
    )
    .where(and(eq(offerPriceParts.clubId, ctx.club), eq(offerPriceParts.partCode, input.code)))
    .orderBy(asc(offerPrices.offerCode), asc(offerPrices.seenFirst), asc(offerPrices.number));
  const histories = new Map<string, KeptPrice[]>();
  for (const { price } of rows) addTo(histories, price.offerCode, keptOf(price));
  const names = await ctx.tx
    .select({ code: suppliers.code, body: suppliers.body })
    .from(suppliers)
    .where(eq(suppliers.clubId, ctx.club));
  const nameOf = new Map(names.map(({ code, body }) => [code, body.name]));
  return priceCourse({
    part,
    currency,
    today: todayOf(ctx),
    rates: await rates.all({ ctx }),
    histories: [...histories.values()],
    supplierName: (code) => nameOf.get(code) ?? code,
  });
}
