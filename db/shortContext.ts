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

/** What a club settles of short forms, as plain data: a thread reads with it as well. */
export interface ClubSays {
  currency: string | undefined;
  cableType: string | undefined;
  /** What each supplier sells in. */
  currencies: readonly (readonly [supplier: string, currency: string])[];
  /** Of all parts the codes, and of wires what they are. */
  parts: readonly object[];
}

/** The club's currency, its suppliers' currencies, its usual cable type and its wire parts. */
export async function clubSays({ ctx }: { ctx: Ctx }): Promise<ClubSays> {
  const terms = await currenciesOf(ctx);
  const known = await ctx.tx
    .select({
      code: parts.code,
      wire: sql<object | null>`case when ${parts.body} ->> 'kind' = 'wire' then ${parts.body} end`,
    })
    .from(parts)
    .where(eq(parts.clubId, ctx.club))
    .orderBy(asc(parts.code));
  return { ...terms, parts: known.map(({ code, wire }) => wire ?? { code }) };
}

/** The context of what a club says. */
export function clubShortsOf({ parts, ...terms }: ClubSays): ClubShorts {
  const wires = new WireParts(parts);
  return {
    context: { ...contextOf(terms), wirePart: (text, context) => wires.read(text, context) },
    made: () => wires.made(),
  };
}

/** The same at once. */
export async function clubShorts({ ctx }: { ctx: Ctx }): Promise<ClubShorts> {
  return clubShortsOf(await clubSays({ ctx }));
}

/** What is settled without a look at the parts: the club's currency and its suppliers', and its usual cable type. */
export async function clubCurrencies({ ctx }: { ctx: Ctx }): Promise<ShortContext> {
  return contextOf(await currenciesOf(ctx));
}

type Terms = Omit<ClubSays, 'parts'>;

async function currenciesOf(ctx: Ctx): Promise<Terms> {
  const { currency, settings } = await getClub({ ctx });
  const sellers = await ctx.tx
    .select({ code: suppliers.code, currency: sql<string>`${suppliers.body} ->> 'currency'` })
    .from(suppliers)
    .where(eq(suppliers.clubId, ctx.club));
  return {
    currency,
    cableType: settings.usualCableType ?? DEFAULT_SETTINGS.usualCableType,
    currencies: sellers.map((seller) => [seller.code, seller.currency] as const),
  };
}

function contextOf({ currency, cableType, currencies }: Terms): ShortContext {
  const bySupplier = new Map(currencies);
  return { currency, cableType, currencyOf: (supplier) => bySupplier.get(supplier) };
}
