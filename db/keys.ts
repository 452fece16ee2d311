import { createHash, randomBytes } from 'node:crypto';
import { and, asc, eq, gt, inArray, isNotNull, isNull, or } from 'drizzle-orm';
import { record, recordAll, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { Conflict, NotFound } from './errors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { clubs, keys, members, ROLES, type Role } from './schema/index.ts';
import { asSystem } from './system.ts';

export { ROLES, type Role };

export type Key = Omit<typeof keys.$inferSelect, 'hash'>;

const columns = {
  clubId: keys.clubId,
  id: keys.id,
  role: keys.role,
  label: keys.label,
  createdAt: keys.createdAt,
  revokedAt: keys.revokedAt,
  memberId: keys.memberId,
};

/** A secret of 256 random bits, so a plain hash of it is enough: there is nothing to guess. */
export function newSecret(prefix: 'lw' | 'join' = 'lw'): string {
  return `${prefix}_${randomBytes(32).toString('base64url')}`;
}

/** What of a secret is stored and compared. */
export function hashOfSecret(secret: string): string {
  return createHash('sha256').update(secret).digest('hex');
}

/** A new key. The secret is in this answer and nowhere else. */
export async function createKey({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { role: Role; label: string; memberId?: string | undefined };
}): Promise<{ key: Key; secret: string }> {
  const secret = newSecret();
  const [key] = await ctx.tx
    .insert(keys)
    .values({ clubId: ctx.club, id: ctx.newId(), hash: hashOfSecret(secret), ...input, createdAt: ctx.now() })
    .returning(columns);
  if (!key) throw new Error('the key was not stored');
  await record(ctx, 'key.create', key.id, {
    after: { role: key.role, label: key.label, member: key.memberId },
  });
  return { key, secret };
}

/** By age; of one member where one is named. */
export async function listKeys({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: PageInput & { member?: string | undefined };
}): Promise<Page<Key>> {
  const rows = await ctx.tx
    .select(columns)
    .from(keys)
    .where(
      and(
        eq(keys.clubId, ctx.club),
        input.member === undefined ? undefined : eq(keys.memberId, input.member),
        input.after === undefined ? undefined : gt(keys.id, input.after),
      ),
    )
    .orderBy(asc(keys.id))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => row.id,
    (row) => row,
  );
}

/**
 * From now on the key opens nothing. Errors: NotFound, also for a key that was revoked before; Conflict for the club's last
 * key with which an admin can act.
 */
export async function revokeKey({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<void> {
  await keepingAnAdmin(ctx, async () => {
    const rows = await ctx.tx
      .update(keys)
      .set({ revokedAt: ctx.now() })
      .where(and(eq(keys.clubId, ctx.club), eq(keys.id, input.id), isNull(keys.revokedAt)))
      .returning({ id: keys.id });
    if (rows.length === 0) throw new NotFound(`key ${input.id}`);
  });
  await record(ctx, 'key.revoke', input.id);
}

/** The key under another secret: the old one opens nothing from now on. Error: NotFound, also for a revoked key. */
export async function renewKey({
  ctx,
  input: { id },
}: {
  ctx: Ctx;
  input: { id: string };
}): Promise<{ key: Key; secret: string }> {
  const old = await getKey({ ctx, input: { id } });
  const { role, label, memberId } = old;
  const made = await createKey({ ctx, input: { role, label, memberId: memberId ?? undefined } });
  await revokeKey({ ctx, input: { id } });
  return made;
}

/** A key that opens something; of this member where one is named. Error: NotFound. */
export async function getKey({
  ctx,
  input: { id, member },
}: {
  ctx: Ctx;
  input: { id: string; member?: string | undefined };
}): Promise<Key> {
  const ofMember = member === undefined ? undefined : eq(keys.memberId, member);
  const [key] = await ctx.tx
    .select(columns)
    .from(keys)
    .where(and(eq(keys.clubId, ctx.club), eq(keys.id, id), isNull(keys.revokedAt), ofMember));
  if (!key) throw new NotFound(`key ${id}`);
  return key;
}

/** Ends all keys of a member. Returns their ids. */
export async function revokeKeysOf({
  ctx,
  input: { member },
}: {
  ctx: Ctx;
  input: { member: string };
}): Promise<string[]> {
  const rows = await ctx.tx
    .update(keys)
    .set({ revokedAt: ctx.now() })
    .where(and(eq(keys.clubId, ctx.club), eq(keys.memberId, member), isNull(keys.revokedAt)))
    .returning({ id: keys.id });
  await recordAll(
    ctx,
    rows.map(({ id }) => ({ action: 'key.revoke', subject: id })),
  );
  return rows.map(({ id }) => id);
}

/**
 * Does what may take an admin from the club. One such change of a club at a time: its row is held. Error: Conflict where
 * an admin could act before and none can after; then all of the transaction is to be undone.
 */
export async function keepingAnAdmin<T>(ctx: Ctx, work: () => Promise<T>): Promise<T> {
  await ctx.tx.select({ id: clubs.id }).from(clubs).where(eq(clubs.id, ctx.club)).for('no key update');
  const hadOne = await hasAdmin(ctx);
  const done = await work();
  if (hadOne && !(await hasAdmin(ctx)))
    throw new Conflict(
      'last-admin',
      'After this nobody could act as an admin of the club any more. First make another member an admin, with a key of the role admin, or make such a key that belongs to no member.',
    );
  return done;
}

/** Whether somebody holds a key with which an admin can act: of an admin, or of no member. */
async function hasAdmin(ctx: Ctx): Promise<boolean> {
  const rows = await ctx.tx
    .select({ id: keys.id })
    .from(keys)
    .leftJoin(members, and(eq(members.clubId, keys.clubId), eq(members.id, keys.memberId)))
    .where(
      and(
        eq(keys.clubId, ctx.club),
        eq(keys.role, 'admin'),
        isNull(keys.revokedAt),
        or(isNull(keys.memberId), and(eq(members.role, 'admin'), isNull(members.leftAt))),
      ),
    )
    .limit(1);
  return rows.length > 0;
}

/**
 * The key of which this is the hash of the secret, or undefined where it opens nothing. A member's key opens no more than
 * the member may, and nothing once the member has left.
 */
export function keyOfHash(database: Database, hash: string): Promise<Key | undefined> {
  return asSystem(database, async (tx) => {
    const rows = await tx
      .select({ ...columns, memberRole: members.role, leftAt: members.leftAt })
      .from(keys)
      .leftJoin(members, and(eq(members.clubId, keys.clubId), eq(members.id, keys.memberId)))
      .where(and(eq(keys.hash, hash), isNull(keys.revokedAt)));
    const [row] = rows;
    if (!row || row.leftAt !== null) return undefined;
    const { memberRole, leftAt: _left, ...key } = row;
    return memberRole === null ? key : { ...key, role: lesserOf(key.role, memberRole) };
  });
}

/** The role that may do less. */
export function lesserOf(one: Role, other: Role): Role {
  return mayAs(one, other) ? other : one;
}

/** Whether who has a role may do all that the other one may. */
export function mayAs(role: Role, other: Role): boolean {
  return ROLES.indexOf(role) >= ROLES.indexOf(other);
}

/** Which of these keys, of whichever clubs, are revoked. */
export function revokedOf(database: Database, ids: string[]): Promise<string[]> {
  return asSystem(database, async (tx) => {
    const rows = await tx
      .select({ id: keys.id })
      .from(keys)
      .where(and(inArray(keys.id, ids), isNotNull(keys.revokedAt)));
    return rows.map(({ id }) => id);
  });
}
