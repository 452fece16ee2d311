import { and, eq, inArray } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { restorePrices } from '../offerPrices.ts';
import { offerPrices as table } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';
import { offerPriceEntry } from './stored.ts';

type Price = EntryOf<'offerPrice'>;

const nameOf = ({ offer, number }: Pick<Price, 'offer' | 'number'>) => `${offer}/${number}`;

/** Writes those prices of offers that the club does not have. Compared is what was seen and when, not who put it in. */
export async function importOfferPrices(ctx: Ctx, batch: Placed<Price>[], told: Tally): Promise<void> {
  const offers = [...new Set(batch.map(({ entry }) => entry.offer))];
  const rows = await ctx.tx
    .select()
    .from(table)
    .where(and(eq(table.clubId, ctx.club), inArray(table.offerCode, offers)));
  const stored = new Map(rows.map((row) => [nameOf({ offer: row.offerCode, number: row.number }), row]));
  const fresh = batch.filter((placed) => {
    const { entry } = placed;
    const row = stored.get(nameOf(entry));
    if (!row) told.count('new', placed);
    else {
      const { putInAt, putInBy } = entry;
      const there = { ...offerPriceEntry(row), putInAt, putInBy };
      told.count(isSame(there, entry) ? 'equal' : 'differs', placed);
    }
    return !row;
  });
  await restorePrices(
    ctx,
    fresh.map(({ entry: { type: _type, offer, goneOn, putInAt, putInBy, ...row } }) => ({
      clubId: ctx.club,
      offerCode: offer,
      ...row,
      goneOn: goneOn ?? null,
      putInAt: new Date(putInAt),
      putInBy: putInBy ?? null,
    })),
  );
}
