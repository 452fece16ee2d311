import type { Db } from './connect.ts';
import { sqlState } from './errors.ts';
import { DatabaseAway, meaningOf, READ_ONLY, StorageFull } from './outage.ts';

/** A database's pool of connections, and the Drizzle above it. */
export interface Pool {
  db: Db;
}

export interface GuardOptions<P extends Pool> {
  /** The pool that a transaction begins on. */
  pool: () => P;
  /** How long a transaction waits for a connection; without it as long as it takes. */
  waitMs?: number;
  /** A server of this pool answered that it is read-only: its connections lead to the wrong one. */
  onReadOnly?: (pool: P) => void;
  /** A transaction found no room on the disk. */
  onFull: (error: StorageFull) => void;
}

type Transaction = Db['transaction'];

/**
 * Drizzle's `transaction`, whose errors say what became of the transaction: DatabaseAway and StorageFull where nothing is
 * stored, OutcomeUnknown where the answer to its COMMIT was lost. What the work itself throws passes unchanged.
 */
function guardedTransaction<P extends Pool>(options: GuardOptions<P>): Transaction {
  const { waitMs, onReadOnly, onFull } = options;
  return async (work, config) => {
    const pool = options.pool();
    let state: 'waiting' | 'open' | 'committing' | 'gaveUp' = 'waiting';
    let timer: NodeJS.Timeout | undefined;
    const running = pool.db.transaction(async (tx) => {
      // A connection that comes too late has nobody to work for.
      if (state === 'gaveUp') throw new DatabaseAway('It waited too long for a connection.');
      state = 'open';
      clearTimeout(timer);
      const done = await work(tx);
      state = 'committing';
      return done;
    }, config);
    try {
      if (waitMs === undefined) return await running;
      const late = new Promise<never>((_resolve, reject) => {
        timer = setTimeout(() => {
          state = 'gaveUp';
          reject(new DatabaseAway('No connection to the database in time.'));
        }, waitMs);
      });
      return await Promise.race([running, late]);
    } catch (error) {
      const meaning = meaningOf(
        error,
        (state as string) === 'committing' && config?.accessMode !== 'read only',
      );
      if (sqlState(meaning) === READ_ONLY) onReadOnly?.(pool);
      if (meaning instanceof StorageFull) onFull(meaning);
      throw meaning;
    } finally {
      clearTimeout(timer);
    }
  };
}

/** The database of the pool at hand, whose transactions are guarded. */
export function guardedDb<P extends Pool>(options: GuardOptions<P>): Db {
  const transaction = guardedTransaction(options);
  return new Proxy(options.pool().db, {
    get: (_first, name) => {
      if (name === 'transaction') return transaction;
      return Reflect.get(options.pool().db, name) as unknown;
    },
  });
}
