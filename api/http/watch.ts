import type { Logger } from 'pino';
import type { Database } from '../../db/connect.ts';
import { readTasks, type Task } from '../../db/tasks.ts';

type Listener = (task: Task) => void;

export interface Watch {
  /** Calls the listener with the task whenever it has moved on. Returns the way to stop. */
  follow(taskId: string, listener: Listener): () => void;
  /** Ends every stream that was opened through this watch. */
  readonly closing: AbortSignal;
  close(): void;
}

const ENDED = ['done', 'failed', 'cancelled'] as const;

export function hasEnded(task: Pick<Task, 'state'>): boolean {
  return (ENDED as readonly string[]).includes(task.state);
}

/** One poller a process feeds all event streams: one query a round, however many watch. */
export function watchTasks(database: Database, log: Logger, everyMs = 250): Watch {
  const followers = new Map<string, Set<Listener>>();
  const seen = new Map<string, number>();
  const closing = new AbortController();
  let timer: NodeJS.Timeout | undefined;

  async function poll(): Promise<void> {
    try {
      for (const task of await readTasks(database, [...followers.keys()])) {
        if (seen.get(task.id) === task.progressNumber) continue;
        seen.set(task.id, task.progressNumber);
        for (const listener of followers.get(task.id) ?? []) listener(task);
      }
    } catch (error) {
      log.warn(
        { err: { name: error instanceof Error ? error.name : 'unknown' } },
        'task progress could not be read',
      );
    }
    timer = undefined;
    schedule();
  }

  function schedule(): void {
    if (followers.size > 0 && timer === undefined && !closing.signal.aborted)
      timer = setTimeout(() => void poll(), everyMs);
  }

  return {
    closing: closing.signal,
    follow(taskId, listener) {
      const listeners = followers.get(taskId) ?? new Set();
      listeners.add(listener);
      followers.set(taskId, listeners);
      seen.delete(taskId);
      schedule();
      return () => {
        listeners.delete(listener);
        if (listeners.size > 0) return;
        followers.delete(taskId);
        seen.delete(taskId);
      };
    },
    close() {
      closing.abort();
      clearTimeout(timer);
      followers.clear();
    },
  };
}
