import { eq, sql } from 'drizzle-orm';
import { z } from 'zod';
import { record, type Ctx } from './club.ts';
import { synonyms as table } from './schema/index.ts';
import { plainWords } from './search/fold.ts';
import type { Synonyms } from './search/units.ts';

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

/** Puts other groups in the place of all that there are. */
export async function setSynonyms({ ctx, input }: { ctx: Ctx; input: string[][] }): Promise<string[][]> {
  const before = await getSynonyms({ ctx });
  const values = { groups: input, updatedAt: ctx.now(), updatedBy: ctx.actor };
  await ctx.tx
    .insert(table)
    .values({ clubId: ctx.club, version: 1, ...values })
    .onConflictDoUpdate({ target: table.clubId, set: { ...values, version: sql`${table.version} + 1` } });
  await record(ctx, 'synonyms.replace', ctx.club, { before, after: input });
  return input;
}

/** The other words of every word's groups. */
export function synonymsOf(groups: readonly (readonly string[])[]): Synonyms {
  const others = new Map<string, string[]>();
  for (const group of groups)
    for (const word of group)
      others.set(word, [...(others.get(word) ?? []), ...group.filter((each) => each !== word)]);
  return others;
}
