import type { Task } from '../../db/tasks.ts';
import type { ClubCtx } from '../../db/club.ts';
import type { Deps } from './deps.ts';

/**
 * Wakes a worker for a task, once it is committed, and notes which request asked for it. The row is the truth: a waking that
 * fails is made good when a worker looks by itself.
 */
export function wakeFor(
  { wake, log }: Deps,
  { id, wakeNumber }: Pick<Task, 'id' | 'wakeNumber'>,
  { requestId, club, actor }: Pick<ClubCtx, 'requestId' | 'club' | 'actor'>,
): () => Promise<void> {
  return () => {
    log.info({ requestId, club, actor, task: id }, 'a task waits for a worker');
    return wake
      .wake({ id, wakeNumber })
      .catch(() =>
        log.warn({ requestId, task: id }, 'no worker could be woken; one finds it within seconds'),
      );
  };
}
