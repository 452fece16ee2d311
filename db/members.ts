import { and, asc, eq, gt, isNull, sql } from 'drizzle-orm';
import { record, type Ctx } from './club.ts';
import { Conflict, NotFound, Stale } from './errors.ts';
import { endInvitationsOf } from './invitations.ts';
import { keepingAnAdmin, revokeKeysOf } from './keys.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { aloneOnShelf } from './reservations.ts';
import { members, type Role } from './schema/index.ts';
import { renameOwner } from './stockOwners.ts';
import { isVersion, versionIn, versionOf, type Changeable, type Version } from './version.ts';

export type Member = typeof members.$inferSelect;

/** What is said of a member. */
export interface MemberTerms {
  name: string;
  role: Role;
  email?: string | undefined;
  note?: string | undefined;
}

/** A new member of the club, without a key. */
export async function createMember({ ctx, input }: { ctx: Ctx; input: MemberTerms }): Promise<Member> {
  const [member] = await ctx.tx
    .insert(members)
    .values({ clubId: ctx.club, id: ctx.newId(), ...columns(input), joinedAt: ctx.now() })
    .returning();
  if (!member) throw new Error('the member was not stored');
  await record(ctx, 'member.join', member.id, { after: recorded(member) });
  return member;
}

/** All who are and were members, in the order in which they joined. */
export async function listMembers({ ctx, input }: { ctx: Ctx; input: PageInput }): Promise<Page<Member>> {
  const rows = await ctx.tx
    .select()
    .from(members)
    .where(
      and(eq(members.clubId, ctx.club), input.after === undefined ? undefined : gt(members.id, input.after)),
    )
    .orderBy(asc(members.id))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => row.id,
    (row) => row,
  );
}

/** Those of this name who are in the club now. */
export async function membersNamed({
  ctx,
  input: { name },
}: {
  ctx: Ctx;
  input: { name: string };
}): Promise<Member[]> {
  return ctx.tx
    .select()
    .from(members)
    .where(and(eq(members.clubId, ctx.club), eq(members.name, name), isNull(members.leftAt)))
    .orderBy(asc(members.id));
}

/** Error: NotFound. */
export async function getMember({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<Member> {
  const [member] = await ctx.tx.select().from(members).where(one(ctx, input.id));
  if (!member) throw new NotFound(`member ${input.id}`);
  return member;
}

/**
 * What is said of a member, anew. Errors: NotFound; Stale; Conflict for one who has left, and for the last admin, who cannot
 * become less.
 */
export async function changeMember({
  ctx,
  input: { id, version, ...terms },
}: {
  ctx: Ctx;
  input: MemberTerms & { id: string; version: Changeable };
}): Promise<Member> {
  const before = await getMember({ ctx, input: { id } });
  refuseLeft(before);
  if (!isVersion(dated(before), version)) throw new Stale();
  // Their stock is to have their new name.
  if (before.name !== terms.name) await aloneOnShelf(ctx);
  const change = async () => {
    const [row] = await ctx.tx
      .update(members)
      .set({ ...columns(terms), version: sql`${members.version} + 1` })
      .where(and(one(ctx, id), isNull(members.leftAt), versionIn(DATED, version)))
      .returning();
    if (!row) throw new Stale();
    return row;
  };
  const after = await keepingAnAdmin(ctx, change);
  if (before.role === 'admin' && after.role !== 'admin')
    await endInvitationsOf({ ctx, input: { member: id } });
  if (before.name !== after.name) await renameOwner(ctx, after);
  await record(ctx, 'member.change', id, { before: recorded(before), after: recorded(after) });
  return after;
}

/**
 * A member leaves: their keys open nothing from now on, and what they invited others with is ended. Their name stays, and so
 * does all that they put in. Returns the ids of their keys. Errors: NotFound; Conflict for one who has left, and for the
 * last admin.
 */
export async function leaveClub({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<{ member: Member; keys: string[] }> {
  const before = await getMember({ ctx, input: { id } });
  return keepingAnAdmin(ctx, async () => {
    const [member] = await ctx.tx
      .update(members)
      .set({ leftAt: ctx.now(), version: sql`${members.version} + 1` })
      .where(and(one(ctx, id), isNull(members.leftAt)))
      .returning();
    if (!member) throw hasLeft(before);
    const keys = await revokeKeysOf({ ctx, input: { member: id } });
    await endInvitationsOf({ ctx, input: { member: id } });
    await record(ctx, 'member.leave', id, { before: recorded(before), after: recorded(member) });
    return { member, keys };
  });
}

/** Error: Conflict for a member who has left. */
export function refuseLeft(member: Member): void {
  if (member.leftAt) throw hasLeft(member);
}

export function versionOfMember(member: Member): Version {
  return versionOf(dated(member));
}

function hasLeft({ name }: Member): Conflict {
  return new Conflict('has-left', `${name} has left the club. To let them in again, invite them again.`);
}

const one = (ctx: Ctx, id: string) => and(eq(members.clubId, ctx.club), eq(members.id, id));

const DATED = { version: members.version, createdAt: members.joinedAt };
const dated = ({ version, joinedAt }: Member) => ({ version, createdAt: joinedAt });

const columns = ({ name, role, email, note }: MemberTerms) => ({
  name,
  role,
  email: email ?? null,
  note: note ?? null,
});

/** What the record keeps: not the address, which is for admins alone, nor the note. */
function recorded({ name, role, joinedAt, leftAt }: Member) {
  return {
    name,
    role,
    joinedAt: joinedAt.toISOString(),
    ...(leftAt ? { leftAt: leftAt.toISOString() } : {}),
  };
}
