import { and, desc, eq, gte, inArray, lt, or } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import { namesOf } from './actors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { audit } from './schema/index.ts';

/** One row of the record, with who it was in words. */
export interface Recorded {
  row: typeof audit.$inferSelect;
  who: string;
}

export interface RecordInput extends PageInput {
  /** What changed: its kind and name, as in `part:ring-6`. */
  thing?: string | undefined;
  /** The id of a member or a key. */
  person?: string | undefined;
  action?: string | undefined;
  /** From this moment on. */
  from?: Date | undefined;
  /** Before this moment. */
  until?: Date | undefined;
}

/** The record of a club, newest first; what is private to a member is seen by that member alone. */
export async function listRecord({ ctx, input }: { ctx: Ctx; input: RecordInput }): Promise<Page<Recorded>> {
  const { thing, person, action, from, until, after, limit } = input;
  const where = [
    eq(audit.clubId, ctx.club),
    ...(thing === undefined ? [] : [eq(audit.thing, thing)]),
    ...(person === undefined
      ? []
      : [or(eq(audit.memberId, person), inArray(audit.actor, [`member:${person}`, `key:${person}`]))]),
    ...(action === undefined ? [] : [eq(audit.action, action)]),
    ...(from === undefined ? [] : [gte(audit.at, from)]),
    ...(until === undefined ? [] : [lt(audit.at, until)]),
    // Ids are made in order of time.
    ...(after === undefined ? [] : [lt(audit.id, after)]),
  ];
  const rows = await ctx.tx
    .select()
    .from(audit)
    .where(and(...where))
    .orderBy(desc(audit.id))
    .limit(limit + 1);
  const who = await namesOf(
    ctx,
    rows.map(({ actor }) => actor),
  );
  const page = pageOf(
    rows,
    limit,
    (row) => row.id,
    (row) => ({ row, who: who.get(row.actor) ?? row.actor }),
  );
  await fillRevisionsBefore(ctx, page.items);
  return page;
}

/** What was before a revision is the revision before, which the record has as its `after`: it stands there once. */
async function fillRevisionsBefore(ctx: Ctx, items: Recorded[]): Promise<void> {
  const revised = items.flatMap(({ row }) => {
    const [code, number] = row.subject.split('/');
    return row.action === 'loom.revise' ? [{ row, subject: `${code}/${Number(number) - 1}` }] : [];
  });
  if (revised.length === 0) return;
  const earlier = await ctx.tx
    .select({ id: audit.id, subject: audit.subject, after: audit.after })
    .from(audit)
    .where(
      and(
        eq(audit.clubId, ctx.club),
        inArray(audit.thing, [...new Set(revised.map(({ row }) => row.thing))]),
        inArray(audit.action, ['loom.create', 'loom.revise']),
        inArray(audit.subject, [...new Set(revised.map(({ subject }) => subject))]),
      ),
    )
    .orderBy(desc(audit.id));
  // A code may be given up and used again: the latest one before it is meant.
  for (const { row, subject } of revised)
    row.before = earlier.find((one) => one.subject === subject && one.id < row.id)?.after ?? null;
}
