import { sql } from 'drizzle-orm';
import type { Database, Tx } from './connect.ts';
import { insertMany } from './insertMany.ts';
import { audit, type Role } from './schema/index.ts';
import { enterScope, inScope } from './scope.ts';

/** Who asks, for which club, with what clock and ids: what every store takes beside its input. */
export interface Ctx {
  club: string;
  /** As the record names it: member:<id>, key:<id> of a key of no member, or the service's own. */
  actor: string;
  /** The member who asks; undefined for a key of no member and for the service. */
  member?: string | undefined;
  /** The id of the key that asks; undefined for the service. */
  key?: string | undefined;
  /** The service at work for a club: it sees what is private to members too. */
  whole?: boolean | undefined;
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

/**
 * Work that must see what is private to any member: counts, and whether something is in use. What it sees is not to be shown.
 */
export async function seeingAll<T>(ctx: Ctx, work: (ctx: Ctx) => Promise<T>): Promise<T> {
  if (ctx.whole === true) return work(ctx);
  const see = (value: string) => ctx.tx.execute(sql`select set_config('loomwright.whole', ${value}, true)`);
  await see('on');
  try {
    return await work({ ...ctx, whole: true });
  } finally {
    await see('');
  }
}

/** What a change changed, for the record: bodies as JSON, nothing where there was or is nothing. */
export interface Changed {
  before?: unknown;
  after?: unknown;
  /** The member who alone may see it. */
  privateTo?: string | null | undefined;
}

/** Writes the audit row of a change, in the change's own transaction. */
export async function record(
  ctx: Ctx,
  action: string,
  subject: string,
  changed: Changed = {},
): Promise<void> {
  await recordAll(ctx, [{ action, subject, ...changed }]);
}

/** The same of several changes. */
export async function recordAll(
  ctx: Ctx,
  changes: readonly ({ action: string; subject: string } & Changed)[],
): Promise<void> {
  if (changes.length === 0) return;
  const { club: clubId, actor, requestId } = ctx;
  const at = ctx.now();
  await insertMany(
    ctx,
    audit,
    changes.map(({ action, subject, before, after, privateTo }) => ({
      clubId,
      id: ctx.newId(),
      at,
      actor,
      requestId,
      action,
      subject,
      thing: thingOf(action, subject),
      before: before ?? null,
      after: after ?? null,
      memberId: ctx.member ?? null,
      privateTo: privateTo ?? null,
    })),
  );
}

/** The member who alone sees something of theirs, or nobody. */
export function privateToOf(row: { ownerId: string | null; private: boolean }): string | null {
  return row.private ? row.ownerId : null;
}

/** What an action changed: a revision is of its loom, a winning price of its quote. */
export function thingOf(action: string, subject: string): string {
  const [word = ''] = action.split('.');
  const isPartOfMore = word === 'loom' || word === 'winning-price';
  return `${word}:${isPartOfMore ? subject.split('/')[0] : subject}`;
}

/** Who put in what is new, and who changed it last. */
export function authorsOf({ actor }: Ctx): { createdBy: string; updatedBy: string } {
  return { createdBy: actor, updatedBy: actor };
}
