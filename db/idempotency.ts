import { and, eq, lt, sql } from 'drizzle-orm';
import type { Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { Conflict } from './errors.ts';
import { idempotency } from './schema/index.ts';
import { asSystem } from './system.ts';

/** An answer as it was given, to be given again. */
export interface Answer {
  status: number;
  headers: Record<string, string>;
  body: string;
}

/** The key was used before with another request. */
export class KeyReused extends Conflict {}

interface Use {
  key: string;
  /** Method and path. */
  route: string;
  bodyHash: string;
}

/**
 * What was answered to this key before, or null where it is new. Throws Conflict while the first request with it still
 * runs, KeyReused where the key came with another request. To be called first in the request's transaction.
 */
export async function previousAnswer({ ctx, input }: { ctx: Ctx; input: Use }): Promise<Answer | null> {
  const [lock] = await ctx.tx
    .select({
      got: sql<boolean>`pg_try_advisory_xact_lock(hashtextextended(${`${ctx.club} ${callerOf(ctx)} ${input.key}`}, 0))`,
    })
    .from(sql`(values (1)) as one`);
  if (lock?.got !== true)
    throw new Conflict(
      'still-running',
      'The first request with this Idempotency-Key is still running. Try again in a moment.',
    );
  const rows = await ctx.tx
    .select()
    .from(idempotency)
    .where(
      and(
        eq(idempotency.clubId, ctx.club),
        eq(idempotency.caller, callerOf(ctx)),
        eq(idempotency.key, input.key),
      ),
    );
  const before = rows[0];
  if (!before) return null;
  if (before.route !== input.route || before.bodyHash !== input.bodyHash)
    throw new KeyReused(
      'key-reused',
      'This Idempotency-Key was already used for another request. Use a new key for a new request.',
    );
  return { status: before.status, headers: before.headers, body: before.body };
}

/** Keys of no member share what they were answered; a member's answers are theirs alone. */
function callerOf({ member }: Ctx): string {
  return member ?? '';
}

/** Keeps the answer, in the transaction of what it answers. */
export async function keepAnswer({ ctx, input }: { ctx: Ctx; input: Use & Answer }): Promise<void> {
  await ctx.tx
    .insert(idempotency)
    .values({ clubId: ctx.club, caller: callerOf(ctx), createdAt: ctx.now(), ...input });
}

/** Forgets answers older than the given moment. */
export function forgetAnswers(database: Database, before: Date): Promise<number> {
  return asSystem(database, async (tx) => {
    const gone = await tx
      .delete(idempotency)
      .where(lt(idempotency.createdAt, before))
      .returning({ key: idempotency.key });
    return gone.length;
  });
}
