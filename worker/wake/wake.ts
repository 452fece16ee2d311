/** A task that has something to do, and how often it has been woken: a queue takes each waking for a job of its own. */
export interface Waking {
  id: string;
  wakeNumber: number;
}

/**
 * The way to tell a worker that a task waits. The task row is the truth: a waking says that there is work, not which, and
 * one that is lost is made good within seconds, when a worker with a free hand looks for itself.
 */
export interface Wake {
  wake(task: Waking): Promise<void>;
  /** Rejects where wakings cannot be given at present. */
  ready(): Promise<void>;
  close(): Promise<void>;
}

/** The worker's end: calls the handler for each waking, so many at a time. */
export interface Listener {
  /** Takes no more wakings and waits until those in hand are handled. */
  close(): Promise<void>;
}

/** Called with the task for which somebody was woken; its end is waited for. */
export type Handle = (taskId: string) => Promise<unknown>;
