import { and, asc, eq, isNull, type SQL } from 'drizzle-orm';
import type { ProposedEntries } from '../worker/engine/model/unconfirmed.ts';
import type { Ctx } from './club.ts';
import { offers, parts } from './schema/index.ts';

/**
 * The parts of a club, and those of these offers, that nobody has confirmed, as a job states them: nothing at all where there
 * are none.
 */
export async function proposedOf({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { offers: readonly string[] };
}): Promise<{ unconfirmed?: ProposedEntries }> {
  const proposed = async (table: typeof parts | typeof offers, more?: SQL) => {
    const rows = await ctx.tx
      .select({ code: table.code })
      .from(table)
      .where(and(eq(table.clubId, ctx.club), eq(table.standing, 'proposed'), more))
      .orderBy(asc(table.code));
    return rows.map(({ code }) => code);
  };
  const among = new Set(input.offers);
  const codes = {
    parts: await proposed(parts, isNull(parts.mergedInto)),
    offers: (await proposed(offers)).filter((code) => among.has(code)),
  };
  const unconfirmed: ProposedEntries = {
    ...(codes.parts.length === 0 ? {} : { parts: codes.parts }),
    ...(codes.offers.length === 0 ? {} : { offers: codes.offers }),
  };
  return Object.keys(unconfirmed).length === 0 ? {} : { unconfirmed };
}
