import { and, eq, isNotNull } from 'drizzle-orm';
import type { Heirs } from '../worker/engine/model/renamedParts.ts';
import type { Ctx } from './club.ts';
import { parts } from './schema/index.ts';

/** Which part each merged part of the club became. There are few, in an index of their own. */
export async function heirsOf({ ctx }: { ctx: Ctx }): Promise<Heirs> {
  const rows = await ctx.tx
    .select({ code: parts.code, heir: parts.mergedInto })
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), isNotNull(parts.mergedInto)));
  return new Map(rows.flatMap(({ code, heir }) => (heir === null ? [] : [[code, heir]])));
}
