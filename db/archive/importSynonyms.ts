import { eq } from 'drizzle-orm';
import type { Ctx } from '../club.ts';
import { synonyms } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';

/** Writes the synonyms of a club that has never set any. Compared are the groups, not when they were set and by whom. */
export async function importSynonyms(
  ctx: Ctx,
  placed: Placed<EntryOf<'synonyms'>>,
  told: Tally,
): Promise<void> {
  const { entry } = placed;
  const { groups, version, updatedAt, updatedBy } = entry;
  const [row] = await ctx.tx
    .select({ groups: synonyms.groups })
    .from(synonyms)
    .where(eq(synonyms.clubId, ctx.club));
  if (row) return told.count(isSame({ ...entry, groups: row.groups }, entry) ? 'equal' : 'differs', placed);
  await ctx.tx.insert(synonyms).values({
    clubId: ctx.club,
    groups,
    version,
    updatedAt: new Date(updatedAt),
    updatedBy: updatedBy ?? null,
  });
  told.count('new', placed);
}
