import type { Database, Tx } from './connect.ts';
import { insertMany } from './insertMany.ts';
import { audit, type Role } from './schema/index.ts';
import { enterScope, inScope } from './scope.ts';

/** Who asks, for which club, with what clock and ids: what every store takes beside its input. */
export interface Ctx {
  club: string;
  actor: string;
  role: Role;
  requestId: string;
  now: () => Date;
  newId: () => string;
  tx: Tx;
}

export type ClubCtx = Omit<Ctx, 'tx'>;

/**
 * The only way to a club's tables: a transaction that the policies hold to one club.
 * `snapshot` reads everything as of one moment.
 */
export function asClub<T>(
  database: Database,
  ctx: ClubCtx,
  fn: (ctx: Ctx) => Promise<T>,
  options: { snapshot?: boolean } = {},
): Promise<T> {
  if (!options.snapshot) return inScope(database, ctx, (tx) => fn({ ...ctx, tx }));
  return database.db.transaction(async (tx) => fn(await enterClub(tx, ctx)), {
    isolationLevel: 'repeatable read',
    accessMode: 'read only',
  });
}

/** Holds a transaction that is under way to one club. */
export async function enterClub(tx: Tx, ctx: ClubCtx): Promise<Ctx> {
  await enterScope(tx, ctx);
  return { ...ctx, tx };
}

/** Writes the audit row of a change, in the change's own transaction. */
export async function record(ctx: Ctx, action: string, subject: string): Promise<void> {
  await recordAll(ctx, [{ action, subject }]);
}

/** The same of several changes. */
export async function recordAll(ctx: Ctx, changes: { action: string; subject: string }[]): Promise<void> {
  if (changes.length === 0) return;
  const { club: clubId, actor, requestId } = ctx;
  const at = ctx.now();
  await insertMany(
    ctx,
    audit,
    changes.map(({ action, subject }) => ({
      clubId,
      id: ctx.newId(),
      at,
      actor,
      requestId,
      action,
      subject,
    })),
  );
}
