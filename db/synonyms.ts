import { eq } from 'drizzle-orm';
import { z } from 'zod';
import { record, type Ctx } from './club.ts';
import { Stale } from './errors.ts';
import { synonyms as table } from './schema/index.ts';
import { plainWords } from './search/fold.ts';
import type { Synonyms } from './search/units.ts';
import { isVersion, versionOf, type Changeable, type Version } from './version.ts';

const Word = z
  .string()
  .trim()
  .max(40)
  .refine((word) => plainWords(word).length === 1, 'write one word, of letters and digits')
  .transform((word) => plainWords(word)[0] ?? '')
  .pipe(z.string());

/** Groups of words that mean the same in a club, each as a search reads it. */
export const SynonymGroups = z.array(z.array(Word).min(2).max(20)).max(500);

/** Groups of words that the club takes for each other in a search. */
export async function getSynonyms({ ctx }: { ctx: Ctx }): Promise<string[][]> {
  const [row] = await ctx.tx.select({ groups: table.groups }).from(table).where(eq(table.clubId, ctx.club));
  return row?.groups ?? [];
}

/** They are changed by version like all that is stored, from 0: no club is without them, and they are never removed. */
const NEVER_SET: Version = { number: 0, born: 0 };
const createdAt = new Date(0);

export async function readSynonyms({ ctx }: { ctx: Ctx }): Promise<{ groups: string[][]; version: Version }> {
  const [row] = await ctx.tx.select().from(table).where(eq(table.clubId, ctx.club));
  return row
    ? { groups: row.groups, version: versionOf({ ...row, createdAt }) }
    : { groups: [], version: NEVER_SET };
}

/** Puts other groups in the place of all that there are. Error: Stale. */
export async function setSynonyms({
  ctx,
  input: { groups, version },
}: {
  ctx: Ctx;
  input: { groups: string[][]; version: Changeable };
}): Promise<{ groups: string[][]; version: Version }> {
  const values = { groups: [], version: NEVER_SET.number, updatedAt: ctx.now(), updatedBy: ctx.actor };
  // Two who set the first ones meet at this row.
  await ctx.tx
    .insert(table)
    .values({ clubId: ctx.club, ...values })
    .onConflictDoNothing();
  const [before] = await ctx.tx.select().from(table).where(eq(table.clubId, ctx.club)).for('no key update');
  if (!before || !isVersion({ ...before, createdAt }, version)) throw new Stale();
  const number = before.version + 1;
  await ctx.tx
    .update(table)
    .set({ ...values, groups, version: number })
    .where(eq(table.clubId, ctx.club));
  await record(ctx, 'synonyms.replace', ctx.club, { before: before.groups, after: groups });
  return { groups, version: { ...NEVER_SET, number } };
}

/** The other words of every word's groups. */
export function synonymsOf(groups: readonly (readonly string[])[]): Synonyms {
  const others = new Map<string, string[]>();
  for (const group of groups)
    for (const word of group)
      others.set(word, [...(others.get(word) ?? []), ...group.filter((each) => each !== word)]);
  return others;
}
