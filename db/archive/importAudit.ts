import { and, eq, inArray } from 'drizzle-orm';
import { thingOf, type Ctx } from '../club.ts';
import { insertMany } from '../insertMany.ts';
import { audit } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';
import { auditEntry } from './stored.ts';

/** Writes those rows of the history that the club does not have. */
export async function importAudit(ctx: Ctx, batch: Placed<EntryOf<'audit'>>[], told: Tally): Promise<void> {
  const given = batch.map(({ line, entry }) => ({
    line,
    // Archives did not always say what changed; it follows from what was done.
    entry: { ...entry, thing: entry.thing ?? thingOf(entry.action, entry.subject) },
  }));
  const ids = given.map(({ entry }) => entry.id);
  const rows = await ctx.tx
    .select()
    .from(audit)
    .where(and(eq(audit.clubId, ctx.club), inArray(audit.id, ids)));
  const stored = new Map(rows.map((row) => [row.id, auditEntry(row)]));
  const fresh = given.filter((placed) => {
    const there = stored.get(placed.entry.id);
    told.count(!there ? 'new' : isSame(there, placed.entry) ? 'equal' : 'differs', placed);
    return there === undefined;
  });
  await insertMany(
    ctx,
    audit,
    fresh.map(({ entry: { type: _type, at, before, after, memberId, privateTo, ...row } }) => ({
      clubId: ctx.club,
      at: new Date(at),
      ...row,
      before: before ?? null,
      after: after ?? null,
      memberId: memberId ?? null,
      privateTo: privateTo ?? null,
    })),
  );
}
