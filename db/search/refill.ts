import { and, asc, eq, gt } from 'drizzle-orm';
import { asClub, type ClubCtx, type Ctx } from '../club.ts';
import type { Database } from '../connect.ts';
import { offers, parts, searchMarks } from '../schema/index.ts';
import { asSystem } from '../system.ts';
import { keepNumbers, keepOfferWords, keepPartWords } from './keep.ts';

/** How many things get their words in one transaction. */
const AT_ONCE = 500;

type Actor = Omit<ClubCtx, 'club'>;

/**
 * Gathers the words of what was stored before there was a search, some at a time. Any number of processes may do so at once;
 * what is written meanwhile keeps its own words. It ends between two transactions when the signal says so, and goes on from there
 * the next time.
 */
export async function refillSearch(database: Database, actor: Actor, signal?: AbortSignal): Promise<void> {
  const marks = await asSystem(database, (tx) => tx.select().from(searchMarks));
  for (const { clubId: club } of marks)
    while (!signal?.aborted && (await asClub(database, { ...actor, club }, refillSome)));
}

/** Whether there was anything to do. */
async function refillSome(ctx: Ctx): Promise<boolean> {
  // Held, so that two processes do not gather the same.
  const [mark] = await ctx.tx
    .select()
    .from(searchMarks)
    .where(eq(searchMarks.clubId, ctx.club))
    .orderBy(asc(searchMarks.thing))
    .limit(1)
    .for('update');
  if (!mark) return false;
  const last =
    mark.thing === 'part' ? await someParts(ctx, mark.afterCode) : await someOffers(ctx, mark.afterCode);
  const here = and(eq(searchMarks.clubId, ctx.club), eq(searchMarks.thing, mark.thing));
  if (last === undefined) await ctx.tx.delete(searchMarks).where(here);
  else await ctx.tx.update(searchMarks).set({ afterCode: last }).where(here);
  return true;
}

/** The last code of those that got their words; undefined where there were none. */
async function someParts(ctx: Ctx, after: string): Promise<string | undefined> {
  const rows = await ctx.tx
    .select({ body: parts.body, mergedInto: parts.mergedInto })
    .from(parts)
    .where(and(eq(parts.clubId, ctx.club), gt(parts.code, after)))
    .orderBy(asc(parts.code))
    .limit(AT_ONCE)
    .for('update');
  // A merged part is found under the one that it became.
  const changes = rows
    .filter(({ mergedInto }) => mergedInto === null)
    .map(({ body }) => ({ body, before: undefined }));
  await keepNumbers(ctx, changes);
  await keepPartWords(ctx, changes);
  return rows.at(-1)?.body.code;
}

async function someOffers(ctx: Ctx, after: string): Promise<string | undefined> {
  const rows = await ctx.tx
    .select({ body: offers.body })
    .from(offers)
    .where(and(eq(offers.clubId, ctx.club), gt(offers.code, after)))
    .orderBy(asc(offers.code))
    .limit(AT_ONCE)
    .for('update');
  await keepOfferWords(
    ctx,
    rows.map(({ body }) => ({ body, before: undefined })),
  );
  return rows.at(-1)?.body.code;
}
