import { and, asc, eq, inArray, or, sql } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { Offer } from '../worker/engine/model/offer.ts';
import type { Ctx } from './club.ts';
import { offerParts, offers as table } from './schema/index.ts';

/** The offers that sell any of these parts, or are pinned, by code. */
export async function offersThatMatter({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { parts: readonly string[]; pinned: readonly string[] };
}): Promise<Offer[]> {
  // One parameter for any number of codes.
  const among = (column: AnyPgColumn, codes: readonly string[]) =>
    sql`${column} in (select jsonb_array_elements_text(${JSON.stringify(codes)}::text::jsonb))`;
  const selling = ctx.tx
    .select({ code: offerParts.offerCode })
    .from(offerParts)
    .where(and(eq(offerParts.clubId, ctx.club), among(offerParts.partCode, input.parts)));
  const rows = await ctx.tx
    .select({ body: table.body })
    .from(table)
    .where(and(eq(table.clubId, ctx.club), or(inArray(table.code, selling), among(table.code, input.pinned))))
    .orderBy(asc(table.code));
  return rows.map(({ body }) => body);
}
