import { eq, sql } from 'drizzle-orm';
import type { Part } from '../worker/engine/model/part.ts';
import { DEFAULT_SETTINGS } from '../worker/engine/model/settings.ts';
import type { ShortContext } from '../worker/engine/model/short/form.ts';
import { WireParts } from '../worker/engine/model/short/wireParts.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { parts } from './parts.ts';
import { suppliers } from './schema/index.ts';

/** What a club settles of short forms, and the wire parts that come into being as they are read. */
export interface ClubShorts {
  context: ShortContext;
  made: () => readonly Part[];
}

/** The club's currency, its suppliers' currencies, its usual cable type and its wire parts. */
export async function clubShorts({ ctx }: { ctx: Ctx }): Promise<ClubShorts> {
  const { currency, settings } = await getClub({ ctx });
  const sellers = await ctx.tx
    .select({ code: suppliers.code, currency: sql<string>`${suppliers.body} ->> 'currency'` })
    .from(suppliers)
    .where(eq(suppliers.clubId, ctx.club));
  const currencies = new Map(sellers.map((seller) => [seller.code, seller.currency]));
  const wires = new WireParts(await parts.all({ ctx }));
  return {
    context: {
      currency,
      cableType: settings.usualCableType ?? DEFAULT_SETTINGS.usualCableType,
      currencyOf: (supplier) => currencies.get(supplier),
      wirePart: (text, context) => wires.read(text, context),
    },
    made: () => wires.made(),
  };
}
