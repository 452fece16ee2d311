import { sql } from 'drizzle-orm';
import type { Database, Tx } from './connect.ts';

/**
 * A transaction of the service itself: keys are looked up, clubs made, tasks claimed and swept in it. The policies let it
 * see clubs, keys, tasks, audit and idempotency, and nothing of a catalogue, a loom or a quote.
 */
export function asSystem<T>(database: Database, fn: (tx: Tx) => Promise<T>): Promise<T> {
  return database.db.transaction(async (tx) => {
    await tx.execute(sql`select set_config('loomwright.system', 'on', true)`);
    return fn(tx);
  });
}
