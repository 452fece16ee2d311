import { sql } from 'drizzle-orm';
import type { Database, Tx } from './connect.ts';

/** What the policies let a transaction see: one club's rows, or what the service itself may see. */
export type Scope = { club: string } | 'system';

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
  const { name, value } = settingOf(scope);
  await tx.execute(sql`select set_config(${name}, ${value}, true)`);
}

function settingOf(scope: Scope): { name: string; value: string } {
  return scope === 'system'
    ? { name: 'loomwright.system', value: 'on' }
    : { name: 'loomwright.club', value: scope.club };
}

/** It carries no parameters, so what stands in it is looked at here. */
function statementOf(scope: Scope): string {
  const { name, value } = settingOf(scope);
  if (scope !== 'system' && !UUID.test(value)) throw new Error('the id of a club is no UUID');
  return `select set_config('${name}', '${value}', true)`;
}
