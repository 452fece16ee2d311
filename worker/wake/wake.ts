/** A task that has something to do, and how often it has been woken: a queue takes each waking for a job of its own. */
export interface Waking {
  id: string;
  wakeNumber: number;
}

/** The way to tell a worker that a task waits. The task row is the truth: a waking that is lost is made good by the sweep. */
export interface Wake {
  wake(task: Waking): Promise<void>;
  /** Rejects where wakings cannot be given at present. */
  ready(): Promise<void>;
  close(): Promise<void>;
}

/** What came of a waking: the work is over, or somebody else has the task for so long. */
export type Handled = { outcome: 'over' } | { outcome: 'later'; inMs: number };

/** The worker's end: calls the handler for each waking, so many at a time. */
export interface Listener {
  /** Takes no more wakings and waits until those in hand are handled. */
  close(): Promise<void>;
}

export type Handle = (taskId: string) => Promise<Handled>;
