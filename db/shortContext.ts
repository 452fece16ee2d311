import { asc, eq, sql } from 'drizzle-orm';
import type { Part } from '../worker/engine/model/part.ts';
import { DEFAULT_SETTINGS } from '../worker/engine/model/settings.ts';
import type { ShortContext } from '../worker/engine/model/short/form.ts';
import { WireParts } from '../worker/engine/model/short/wireParts.ts';
import type { Ctx } from './club.ts';
import { getClub } from './clubs.ts';
import { parts, suppliers } from './schema/index.ts';

/** What a club settles of short forms, and the wire parts that come into being as they are read. */
export interface ClubShorts {
  context: ShortContext;
  made: () => readonly Part[];
}

/** The club's currency, its suppliers' currencies, its usual cable type and its wire parts. */
export async function clubShorts({ ctx }: { ctx: Ctx }): Promise<ClubShorts> {
  const currencies = await clubCurrencies({ ctx });
  // Of all parts the codes, and of wires what they are.
  const known = await ctx.tx
    .select({
      code: parts.code,
      wire: sql<object | null>`case when ${parts.body} ->> 'kind' = 'wire' then ${parts.body} end`,
    })
    .from(parts)
    .where(eq(parts.clubId, ctx.club))
    .orderBy(asc(parts.code));
  const wires = new WireParts(known.map(({ code, wire }) => wire ?? { code }));
  return {
    context: {
      ...currencies,
      wirePart: (text, context) => wires.read(text, context),
    },
    made: () => wires.made(),
  };
}

/** What is settled without a look at the parts: the club's currency and its suppliers', and its usual cable type. */
export async function clubCurrencies({ ctx }: { ctx: Ctx }): Promise<ShortContext> {
  const { currency, settings } = await getClub({ ctx });
  const sellers = await ctx.tx
    .select({ code: suppliers.code, currency: sql<string>`${suppliers.body} ->> 'currency'` })
    .from(suppliers)
    .where(eq(suppliers.clubId, ctx.club));
  const currencies = new Map(sellers.map((seller) => [seller.code, seller.currency]));
  return {
    currency,
    cableType: settings.usualCableType ?? DEFAULT_SETTINGS.usualCableType,
    currencyOf: (supplier) => currencies.get(supplier),
  };
}
