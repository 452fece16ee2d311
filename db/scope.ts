import { sql } from 'drizzle-orm';
import type { Database, Tx } from './connect.ts';

/** What the policies let a transaction see: one club's rows, or what the service itself may see. */
export type Scope = ClubScope | 'system';

/** A club's rows: but for those of its members that are private, unless `whole` or this `member`'s. */
interface ClubScope {
  club: string;
  member?: string | undefined;
  whole?: boolean | undefined;
}

/**
 * Where a transaction leaves the statement that goes with its BEGIN. It is taken before the call that begins the
 * transaction returns, so that no other transaction can find it.
 */
export interface Opening {
  statement?: string | undefined;
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/**
 * Runs work in a transaction that the policies hold to a scope. The setting ends with the transaction. In service mode
 * it travels with the BEGIN, which saves a trip to the server; should it fail, so does the transaction.
 */
export function inScope<T>(database: Database, scope: Scope, work: (tx: Tx) => Promise<T>): Promise<T> {
  const { opening, db } = database;
  if (!opening)
    return db.transaction(async (tx) => {
      await enterScope(tx, scope);
      return work(tx);
    });
  opening.statement = statementOf(scope);
  const running = db.transaction(work);
  if (opening.statement === undefined) return running;
  opening.statement = undefined;
  // It would see nothing and could write nothing; but it must not happen unseen.
  running.catch(() => undefined);
  throw new Error('a transaction began without its scope');
}

/** Holds a transaction that is under way to a scope. */
export async function enterScope(tx: Tx, scope: Scope): Promise<void> {
  const set = settingsOf(scope).map(({ name, value }) => sql`set_config(${name}, ${value}, true)`);
  await tx.execute(sql`select ${sql.join(set, sql`, `)}`);
}

function settingsOf(scope: Scope): { name: string; value: string }[] {
  if (scope === 'system') return [{ name: 'loomwright.system', value: 'on' }];
  const { club, member, whole } = scope;
  return [
    { name: 'loomwright.club', value: club },
    ...(member === undefined ? [] : [{ name: 'loomwright.member', value: member }]),
    ...(whole === true ? [{ name: 'loomwright.whole', value: 'on' }] : []),
  ];
}

/** It carries no parameters, so what stands in it is looked at here. */
function statementOf(scope: Scope): string {
  const set = settingsOf(scope).map(({ name, value }) => {
    if (value !== 'on' && !UUID.test(value)) throw new Error('the id of a club or member is no UUID');
    return `set_config('${name}', '${value}', true)`;
  });
  return `select ${set.join(', ')}`;
}
