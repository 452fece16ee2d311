import { createHash, randomBytes } from 'node:crypto';
import { and, asc, eq, gt, inArray, isNotNull, isNull } from 'drizzle-orm';
import { record, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { NotFound } from './errors.ts';
import { pageOf, type Page, type PageInput } from './page.ts';
import { keys, members, ROLES, type Role } from './schema/index.ts';
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
function newSecret(): string {
  return `lw_${randomBytes(32).toString('base64url')}`;
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

export async function listKeys({ ctx, input }: { ctx: Ctx; input: PageInput }): Promise<Page<Key>> {
  const rows = await ctx.tx
    .select(columns)
    .from(keys)
    .where(and(eq(keys.clubId, ctx.club), input.after === undefined ? undefined : gt(keys.id, input.after)))
    .orderBy(asc(keys.id))
    .limit(input.limit + 1);
  return pageOf(
    rows,
    input.limit,
    (row) => row.id,
    (row) => row,
  );
}

/** From now on the key opens nothing. Error: NotFound, also for a key that was revoked before. */
export async function revokeKey({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<void> {
  const rows = await ctx.tx
    .update(keys)
    .set({ revokedAt: ctx.now() })
    .where(and(eq(keys.clubId, ctx.club), eq(keys.id, input.id), isNull(keys.revokedAt)))
    .returning({ id: keys.id });
  if (rows.length === 0) throw new NotFound(`key ${input.id}`);
  await record(ctx, 'key.revoke', input.id);
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
function lesserOf(one: Role, other: Role): Role {
  return ROLES.indexOf(one) < ROLES.indexOf(other) ? one : other;
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
