import type { Database, Tx } from './connect.ts';
import { inScope } from './scope.ts';

/**
 * A transaction of the service itself: keys are looked up, clubs made, tasks claimed and swept in it. The policies let it
 * see clubs, keys, tasks, audit and idempotency, and nothing of a catalogue, a loom or a quote.
 */
export function asSystem<T>(database: Database, fn: (tx: Tx) => Promise<T>): Promise<T> {
  return inScope(database, 'system', fn);
}
