import type { Task } from '../../db/tasks.ts';
import type { Deps } from './deps.ts';

/** Wakes a worker for a task, once it is committed. The row is the truth: a waking that fails is made good when a worker looks by itself. */
export function wakeFor(
  { wake, log }: Deps,
  { id, wakeNumber }: Pick<Task, 'id' | 'wakeNumber'>,
): () => Promise<void> {
  return () =>
    wake
      .wake({ id, wakeNumber })
      .catch(() => log.warn({ task: id }, 'no worker could be woken; one finds it within seconds'));
}
