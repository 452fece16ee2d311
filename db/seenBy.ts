import { and, eq, inArray, sql } from 'drizzle-orm';
import { record, seeingAll, type Ctx } from './club.ts';
import { Conflict, NotFound } from './errors.ts';
import { requireOwn, seenByOf } from './own.ts';
import { loomRevisions, looms, quoteLooms, quotes, tasks } from './schema/index.ts';
import type { SeenBy } from './schema/columns.ts';

/**
 * Who sees a loom from now on. Errors: NotFound; Forbidden for whoever is not its owner; Conflict where quotes that others
 * see have the loom in them.
 */
export async function setLoomSeenBy({
  ctx,
  input: { code, seenBy },
}: {
  ctx: Ctx;
  input: { code: string; seenBy: SeenBy };
}): Promise<void> {
  const one = and(eq(looms.clubId, ctx.club), eq(looms.code, code));
  // Held against a quote that is made of it at this moment.
  const [loom] = await ctx.tx.select().from(looms).where(one).for('no key update');
  if (!loom) throw new NotFound(`loom ${code}`);
  requireOwn(ctx, `loom ${code}`, loom);
  const isPrivate = seenBy === 'owner';
  if (loom.private === isPrivate) return;
  if (isPrivate) await refuseQuoted(ctx, code);
  await ctx.tx.update(looms).set({ private: isPrivate }).where(one);
  // What the club did not see until now stands in the row by which it comes to see it.
  const shown = isPrivate ? {} : { body: await latestBody(ctx, code, loom.latestRevision) };
  await record(ctx, 'loom.seen-by', code, {
    before: { seenBy: seenByOf(loom) },
    after: { seenBy, revision: loom.latestRevision, ...shown },
  });
}

async function latestBody(ctx: Ctx, code: string, revision: number): Promise<unknown> {
  const [row] = await ctx.tx
    .select({ body: loomRevisions.body })
    .from(loomRevisions)
    .where(
      and(
        eq(loomRevisions.clubId, ctx.club),
        eq(loomRevisions.loomCode, code),
        eq(loomRevisions.revision, revision),
      ),
    );
  return row?.body;
}

/** Error: Conflict where a quote that is not the owner’s alone has the loom in it. */
async function refuseQuoted(ctx: Ctx, code: string): Promise<void> {
  const rows = await seeingAll(ctx, ({ tx, club, member }) =>
    tx
      .select({ id: quotes.id })
      .from(quoteLooms)
      .innerJoin(quotes, and(eq(quotes.clubId, quoteLooms.clubId), eq(quotes.id, quoteLooms.quoteId)))
      .where(
        and(
          eq(quoteLooms.clubId, club),
          eq(quoteLooms.loomCode, code),
          sql`not (${quotes.private} and ${quotes.ownerId} = ${member ?? null})`,
        ),
      )
      .limit(1),
  );
  if (rows.length > 0)
    throw new Conflict(
      'loom-in-quotes',
      `Others see quotes that have the loom ${code} in them, so it cannot be hidden. Hide your own quotes of it first; if others have quotes of it, add it as a new loom under another code.`,
    );
}

/**
 * Who sees a quote from now on, and its tasks and winning prices with it. Errors: NotFound; Forbidden for whoever is not its
 * owner; Conflict where a loom of it is seen by its owner alone.
 */
export async function setQuoteSeenBy({
  ctx,
  input: { id, seenBy },
}: {
  ctx: Ctx;
  input: { id: string; seenBy: SeenBy };
}): Promise<void> {
  const one = and(eq(quotes.clubId, ctx.club), eq(quotes.id, id));
  const [quote] = await ctx.tx
    .select({ ownerId: quotes.ownerId, private: quotes.private })
    .from(quotes)
    .where(one)
    .for('no key update');
  if (!quote) throw new NotFound(`quote ${id}`);
  requireOwn(ctx, 'quote', quote);
  const isPrivate = seenBy === 'owner';
  if (quote.private === isPrivate) return;
  const asked = await ctx.tx
    .select({ code: quoteLooms.loomCode })
    .from(quoteLooms)
    .where(and(eq(quoteLooms.clubId, ctx.club), eq(quoteLooms.quoteId, id)));
  if (
    !isPrivate &&
    (await hasPrivateLoom(
      ctx,
      asked.map(({ code }) => code),
    ))
  )
    throw privateLoom();
  await ctx.tx.update(quotes).set({ private: isPrivate }).where(one);
  await ctx.tx
    .update(tasks)
    .set({ private: isPrivate, ownerId: quote.ownerId })
    .where(and(eq(tasks.clubId, ctx.club), eq(tasks.subject, id)));
  await record(ctx, 'quote.seen-by', id, { before: { seenBy: seenByOf(quote) }, after: { seenBy } });
}

/** Whether one of these looms is seen by its owner alone; all of them are held until the transaction ends. */
export async function hasPrivateLoom(ctx: Ctx, codes: readonly string[]): Promise<boolean> {
  const rows = await ctx.tx
    .select({ private: looms.private })
    .from(looms)
    .where(and(eq(looms.clubId, ctx.club), inArray(looms.code, [...codes])))
    .orderBy(looms.code)
    .for('share');
  return rows.some((row) => row.private);
}

/** A quote shows what is in its looms. */
export function privateLoom(): Conflict {
  return new Conflict(
    'loom-is-private',
    'A loom of this quote is seen by you alone, and the quote would show it. Show the loom to the club first: PUT /v1/looms/{code}/seen-by.',
  );
}
