import { and, eq, inArray } from 'drizzle-orm';
import type { Finding } from '../../worker/engine/model/finding.ts';
import type { Ctx } from '../club.ts';
import { Invalid } from '../errors.ts';
import { members } from '../schema/index.ts';
import type { EntryOf } from './entries.ts';
import type { Placed, Tally } from './report.ts';
import { isSame } from './same.ts';
import { memberEntry } from './stored.ts';

const ofIds = (ctx: Ctx, ids: readonly string[]) =>
  and(eq(members.clubId, ctx.club), inArray(members.id, [...ids]));

/** Writes the members that the club does not have, without e-mail and keys. */
export async function importMembers(
  ctx: Ctx,
  batch: Placed<EntryOf<'member'>>[],
  told: Tally,
): Promise<void> {
  const ids = batch.map(({ entry }) => entry.id);
  const rows = await ctx.tx.select().from(members).where(ofIds(ctx, ids));
  const stored = new Map(rows.map((row) => [row.id, memberEntry(row)]));
  const fresh = batch.filter((placed) => {
    const there = stored.get(placed.entry.id);
    told.count(!there ? 'new' : isSame(there, placed.entry) ? 'equal' : 'differs', placed);
    return there === undefined;
  });
  if (fresh.length === 0) return;
  await ctx.tx.insert(members).values(
    fresh.map(({ entry: { type: _type, joinedAt, leftAt, ...row } }) => ({
      clubId: ctx.club,
      ...row,
      joinedAt: new Date(joinedAt),
      leftAt: leftAt === undefined ? null : new Date(leftAt),
    })),
  );
}

/** Error: Invalid for entries that name, in this field, a member whom the club does not have. */
export async function requireMembers<P extends Placed>(
  ctx: Ctx,
  batch: readonly P[],
  field: string,
  idOf: (entry: P['entry']) => string | undefined,
): Promise<void> {
  const named = batch.flatMap(({ line, entry }) => {
    const id = idOf(entry);
    return id === undefined ? [] : [{ line, id }];
  });
  if (named.length === 0) return;
  const ids = [...new Set(named.map(({ id }) => id))];
  const rows = await ctx.tx.select({ id: members.id }).from(members).where(ofIds(ctx, ids));
  const there = new Set(rows.map(({ id }) => id));
  const findings = named.flatMap(({ line, id }) => (there.has(id) ? [] : [unknown(line, field, id)]));
  if (findings.length > 0) throw new Invalid(findings);
}

const unknown = (line: number, field: string, id: string): Finding => ({
  code: 'unknown-member',
  severity: 'stop',
  at: `/${field}`,
  where: `line ${line}, ${field}`,
  found: `the member ${id}`,
  todo: 'The archive is incomplete: it does not have this member. Take it again from where it came.',
});
