import { and, desc, eq, gt, isNull, lt } from 'drizzle-orm';
import { asClub, record, recordAll, type ClubCtx, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { Conflict, NotFound } from './errors.ts';
import { createKey, hashOfSecret, newSecret, type Key } from './keys.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { invitations, members, type Role } from './schema/index.ts';
import { asSystem } from './system.ts';

export type Invitation = Omit<typeof invitations.$inferSelect, 'hash'>;

const columns = {
  clubId: invitations.clubId,
  id: invitations.id,
  role: invitations.role,
  name: invitations.name,
  note: invitations.note,
  madeBy: invitations.madeBy,
  createdAt: invitations.createdAt,
  endsAt: invitations.endsAt,
  endedAt: invitations.endedAt,
  usedAt: invitations.usedAt,
  memberId: invitations.memberId,
};

const DAY_MS = 86_400_000;

/** A new invitation. The code is in this answer and nowhere else. */
export async function createInvitation({
  ctx,
  input: { role, name, note, days },
}: {
  ctx: Ctx;
  input: { role: Role; name?: string | undefined; note?: string | undefined; days: number };
}): Promise<{ invitation: Invitation; code: string }> {
  const code = newSecret('join');
  const createdAt = ctx.now();
  const endsAt = new Date(createdAt.getTime() + days * DAY_MS);
  const [invitation] = await ctx.tx
    .insert(invitations)
    .values({
      clubId: ctx.club,
      id: ctx.newId(),
      hash: hashOfSecret(code),
      role,
      name: name ?? null,
      note: note ?? null,
      madeBy: ctx.actor,
      createdAt,
      endsAt,
    })
    .returning(columns);
  if (!invitation) throw new Error('the invitation was not stored');
  const after = { role, ...(name === undefined ? {} : { name }), endsAt: endsAt.toISOString() };
  await record(ctx, 'invitation.create', invitation.id, { after });
  return { invitation, code };
}

/** Newest first. */
export async function listInvitations({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: PageInput;
}): Promise<Page<Invitation>> {
  const rows = await ctx.tx
    .select(columns)
    .from(invitations)
    .where(
      and(
        eq(invitations.clubId, ctx.club),
        input.after === undefined ? undefined : lt(invitations.id, input.after),
      ),
    )
    .orderBy(desc(invitations.id))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => row.id,
    (row) => row,
  );
}

/** Withdraws an invitation. Errors: NotFound, also for one that was withdrawn; Conflict for one that was used. */
export async function endInvitation({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<void> {
  const one = and(eq(invitations.clubId, ctx.club), eq(invitations.id, id), isNull(invitations.endedAt));
  const rows = await ctx.tx
    .update(invitations)
    .set({ endedAt: ctx.now() })
    .where(and(one, isNull(invitations.usedAt)))
    .returning({ id: invitations.id });
  if (rows.length === 0) {
    const used = await ctx.tx.select({ id: invitations.id }).from(invitations).where(one);
    if (used.length === 0) throw new NotFound(`invitation ${id}`);
    throw new Conflict(
      'invitation-used',
      'Somebody has already joined with this invitation. To end their membership: POST /v1/members/{id}/leave.',
    );
  }
  await record(ctx, 'invitation.end', id);
}

/** Withdraws all that a member invited others with. */
export async function endInvitationsOf({
  ctx,
  input: { member },
}: {
  ctx: Ctx;
  input: { member: string };
}): Promise<void> {
  const rows = await ctx.tx
    .update(invitations)
    .set({ endedAt: ctx.now() })
    .where(
      and(
        eq(invitations.clubId, ctx.club),
        eq(invitations.madeBy, `member:${member}`),
        isNull(invitations.endedAt),
        isNull(invitations.usedAt),
      ),
    )
    .returning({ id: invitations.id });
  await recordAll(
    ctx,
    rows.map(({ id }) => ({ action: 'invitation.end', subject: id })),
  );
}

/** Who joined, with their first key. */
export interface Joined {
  member: typeof members.$inferSelect;
  key: Key;
  secret: string;
}

/**
 * Joins the club that a code leads to, once. Undefined for a code that leads nowhere: unknown, used, withdrawn or ended,
 * which nobody can tell apart.
 */
export async function joinClub(
  database: Database,
  base: Pick<ClubCtx, 'requestId' | 'now' | 'newId'>,
  input: { code: string; name: string; email?: string | undefined },
): Promise<Joined | undefined> {
  const hash = hashOfSecret(input.code);
  const [found] = await asSystem(database, (tx) =>
    tx
      .select({ club: invitations.clubId, id: invitations.id, role: invitations.role })
      .from(invitations)
      .where(eq(invitations.hash, hash)),
  );
  if (!found) return undefined;
  const id = base.newId();
  const { club, role } = found;
  return asClub(database, { ...base, club, role, member: id, actor: `member:${id}` }, async (ctx) => {
    const now = ctx.now();
    // The member comes first, since the invitation names them; whoever is late takes theirs back.
    const [member] = await ctx.tx
      .insert(members)
      .values({ clubId: club, id, name: input.name, email: input.email ?? null, role, joinedAt: now })
      .returning();
    const used = await ctx.tx
      .update(invitations)
      .set({ usedAt: now, memberId: id })
      .where(
        and(
          eq(invitations.clubId, club),
          eq(invitations.id, found.id),
          isNull(invitations.usedAt),
          isNull(invitations.endedAt),
          gt(invitations.endsAt, now),
        ),
      )
      .returning({ id: invitations.id });
    if (!member || used.length === 0) throw new Late();
    const after = { name: member.name, role, joinedAt: now.toISOString() };
    await record(ctx, 'invitation.use', found.id, { after: { member: id } });
    await record(ctx, 'member.join', id, { after });
    const label = `first key of ${member.name}`;
    const { key, secret } = await createKey({ ctx, input: { role, label, memberId: id } });
    return { member, key, secret };
  }).catch((error: unknown) => {
    if (error instanceof Late) return undefined;
    throw error;
  });
}

/** The invitation lets nobody in any more. */
class Late extends Error {}
