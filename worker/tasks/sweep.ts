import type { Logger } from 'pino';
import type { Database } from '../../db/connect.ts';
import { forgetAnswers } from '../../db/idempotency.ts';
import { sweepTasks } from '../../db/tasks.ts';
import type { Wake } from '../wake/wake.ts';

/** Well under the 10 s within which a killed worker's task is taken up, lease included. */
const SWEEP_MS = 2_000;
const FORGET_EVERY_MS = 3_600_000;
/** How long a POST may be repeated with its Idempotency-Key. */
const KEEP_ANSWERS_MS = 24 * 3_600_000;

interface SweepDeps {
  database: Database;
  wake: Wake;
  log: Logger;
  now: () => Date;
}

/** One round: every task that nobody works at is woken again. Returns how many. */
export async function sweepOnce(
  { database, wake, log }: Omit<SweepDeps, 'now'>,
  waitedMs?: number,
): Promise<number> {
  const due = await sweepTasks(database, waitedMs);
  for (const task of due) await wake.wake(task).catch(() => undefined);
  if (due.length > 0) log.info({ tasks: due.length }, 'woken again');
  return due.length;
}

/** Sweeps at intervals until it is stopped. */
export function startSweeping(deps: SweepDeps): { stop(): Promise<void> } {
  let stopped = false;
  let timer: NodeJS.Timeout | undefined;
  let forgotten = 0;
  let round = Promise.resolve();

  async function sweep(): Promise<void> {
    try {
      await sweepOnce(deps);
      const now = deps.now().getTime();
      if (now - forgotten > FORGET_EVERY_MS) {
        await forgetAnswers(deps.database, new Date(now - KEEP_ANSWERS_MS));
        forgotten = now;
      }
    } catch (error) {
      deps.log.warn(
        { err: { name: error instanceof Error ? error.name : 'unknown' } },
        'the sweep could not be done; it is tried again',
      );
    }
    if (!stopped) timer = setTimeout(start, SWEEP_MS);
  }

  function start(): void {
    round = sweep();
  }

  start();
  return {
    stop: async () => {
      stopped = true;
      clearTimeout(timer);
      await round;
    },
  };
}
