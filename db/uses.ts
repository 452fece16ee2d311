import { and, asc, count, countDistinct, eq, inArray, isNull, or, sql } from 'drizzle-orm';
import { seeingAll, type Ctx } from './club.ts';
import { Moved, NotFound } from './errors.ts';
import type { FitName } from './fits.ts';
import { fits, loomParts, looms, offerParts, offers, parts, quoteLooms, stock } from './schema/index.ts';

/** What names a part, by its code now or by one that it had before a merge. */
export interface Uses {
  /** Codes of offers that sell it, alone or in a kit. */
  offers: string[];
  /** Those of them that are kits. */
  kits: string[];
  fits: FitName[];
  stock: string[];
  /** Parts that state that they stand in for it. */
  standIns: string[];
  /** With the revisions that name it; `latest`: whether the latest one does. */
  looms: { loom: string; revisions: number[]; latest: boolean }[];
  /** How many further looms are private to others. */
  privateLooms: number;
  /** How many quotes were made of such revisions, of those that the caller sees. */
  quotes: number;
}

/** Errors: NotFound, Moved. */
export async function usesOf({ ctx, input: { code } }: { ctx: Ctx; input: { code: string } }): Promise<Uses> {
  const [row] = await ctx.tx
    .select({ heir: parts.mergedInto })
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), eq(parts.code, code)));
  if (!row) throw new NotFound(`part ${code}`);
  if (row.heir !== null) throw new Moved('part', code, row.heir);
  const club = ctx.club;
  const old = await ctx.tx
    .select({ code: parts.code })
    .from(parts)
    .where(and(eq(parts.clubId, club), eq(parts.mergedInto, code)));
  const codes = [code, ...old.map((part) => part.code)];
  const sold = await ctx.tx
    .select({ code: offers.code, form: sql<string>`${offers.body} ->> 'form'` })
    .from(offerParts)
    .innerJoin(offers, and(eq(offers.clubId, offerParts.clubId), eq(offers.code, offerParts.offerCode)))
    .where(and(eq(offerParts.clubId, club), eq(offerParts.partCode, code)))
    .orderBy(asc(offers.code));
  return {
    offers: sold.map((offer) => offer.code),
    kits: sold.filter(({ form }) => form === 'kit').map((offer) => offer.code),
    fits: await ctx.tx
      .select({ from: fits.fromPart, relation: fits.relation, to: fits.toPart })
      .from(fits)
      .where(and(eq(fits.clubId, club), or(eq(fits.fromPart, code), eq(fits.toPart, code))))
      .orderBy(asc(fits.fromPart), asc(fits.relation), asc(fits.toPart)),
    stock: codesOf(
      await ctx.tx
        .select({ code: stock.code })
        .from(stock)
        .where(and(eq(stock.clubId, club), eq(stock.partCode, code)))
        .orderBy(asc(stock.code)),
    ),
    standIns: codesOf(
      await ctx.tx
        .select({ code: parts.code })
        .from(parts)
        .where(and(eq(parts.clubId, club), isNull(parts.mergedInto), standsInFor(code)))
        .orderBy(asc(parts.code)),
    ),
    ...(await inLooms(ctx, codes)),
  };
}

const codesOf = (rows: readonly { code: string }[]) => rows.map(({ code }) => code);

/** Whether the body of a part states that it stands in for this one. */
const standsInFor = (code: string) =>
  sql`${parts.body} -> 'standsInFor' @> ${JSON.stringify([{ part: code }])}::text::jsonb`;

async function inLooms(ctx: Ctx, codes: string[]): Promise<Pick<Uses, 'looms' | 'privateLooms' | 'quotes'>> {
  const named = and(eq(loomParts.clubId, ctx.club), inArray(loomParts.partCode, codes));
  const rows = await ctx.tx
    .selectDistinct({ loom: loomParts.loomCode, revision: loomParts.revision, last: looms.latestRevision })
    .from(loomParts)
    .innerJoin(looms, and(eq(looms.clubId, loomParts.clubId), eq(looms.code, loomParts.loomCode)))
    .where(named)
    .orderBy(asc(loomParts.loomCode), asc(loomParts.revision));
  const found = new Map<string, Uses['looms'][number]>();
  for (const { loom, revision, last } of rows) {
    const before = found.get(loom);
    found.set(loom, {
      loom,
      revisions: [...(before?.revisions ?? []), revision],
      latest: before?.latest === true || revision === last,
    });
  }
  // Of looms that are private to others only the number is told.
  const [all] = await seeingAll(ctx, ({ tx }) =>
    tx
      .select({ count: countDistinct(loomParts.loomCode) })
      .from(loomParts)
      .where(named),
  );
  const [made] = await ctx.tx.select({ count: count() }).from(
    ctx.tx
      .selectDistinct({ id: quoteLooms.quoteId })
      .from(quoteLooms)
      .innerJoin(
        loomParts,
        and(
          eq(loomParts.clubId, quoteLooms.clubId),
          eq(loomParts.loomCode, quoteLooms.loomCode),
          eq(loomParts.revision, quoteLooms.revision),
        ),
      )
      .where(named)
      .as('made'),
  );
  return {
    looms: [...found.values()],
    privateLooms: (all?.count ?? 0) - found.size,
    quotes: made?.count ?? 0,
  };
}
