import { and, eq, inArray, sql } from 'drizzle-orm';
import { renamedInOffer, type Heirs } from '../worker/engine/model/renamedParts.ts';
import type { Ctx } from './club.ts';
import { insertMany } from './insertMany.ts';
import { offerPriceParts as parts, offerPrices as prices } from './schema/index.ts';

/** Offers whose prices are read at once. */
const CHUNK = 200;

/** Past prices of a part that goes are those of the part that stays. Call it before its offers are rewritten. */
export async function mergePrices(
  ctx: Ctx,
  { part, into }: { part: string; into: string },
  heirs: Heirs,
): Promise<void> {
  const gone = and(eq(parts.clubId, ctx.club), eq(parts.partCode, part));
  const rows = await ctx.tx.select({ offer: parts.offerCode }).from(parts).where(gone);
  const offers = rows.map(({ offer }) => offer);
  for (let start = 0; start < offers.length; start += CHUNK) {
    const codes = offers.slice(start, start + CHUNK);
    const kept = await ctx.tx
      .select()
      .from(prices)
      .where(and(eq(prices.clubId, ctx.club), inArray(prices.offerCode, codes)));
    await insertMany(
      ctx,
      prices,
      kept.map((row) => ({ ...row, body: renamedInOffer(row.body, heirs) })),
      sql`on conflict (club_id, offer_code, number) do update set body = excluded.body`,
    );
    await insertMany(
      ctx,
      parts,
      codes.map((offerCode) => ({ clubId: ctx.club, partCode: into, offerCode })),
      sql`on conflict do nothing`,
    );
  }
  await ctx.tx.delete(parts).where(gone);
}
