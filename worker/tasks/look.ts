import type { Logger } from 'pino';
import type { Database } from '../../db/connect.ts';
import { forgetAnswers } from '../../db/idempotency.ts';
import type { Taken } from './handle.ts';

/** Well under the 10 s within which a lost worker's task is taken up, lease included. */
const LOOK_MS = 2_000;
const FORGET_EVERY_MS = 3_600_000;
/** How long a POST may be repeated with its Idempotency-Key. */
const KEEP_ANSWERS_MS = 24 * 3_600_000;

interface LookDeps {
  database: Database;
  log: Logger;
  now: () => Date;
  /** Has the next task worked. */
  next: () => Promise<Taken>;
  /** How many tasks are worked at once. */
  hands: number;
}

/**
 * Looks for work at intervals, whatever wakings were given: what waits though nobody was woken for it, and what a lost worker
 * had in hand. A hand that finds some goes on until there is none.
 */
export function startLooking(deps: LookDeps): { stop(): Promise<void> } {
  const going = new Set<Promise<void>>();
  let stopped = false;
  let forgotten = 0;
  let forgetting: Promise<void> | undefined;

  async function whileThereIsWork(): Promise<void> {
    while (!stopped && (await deps.next()) === 'worked');
  }

  function look(): void {
    for (let hand = going.size; hand < deps.hands; hand++) {
      const looking: Promise<void> = whileThereIsWork().finally(() => going.delete(looking));
      going.add(looking);
    }
  }

  async function forget(): Promise<void> {
    const now = deps.now().getTime();
    if (now - forgotten <= FORGET_EVERY_MS) return;
    try {
      await forgetAnswers(deps.database, new Date(now - KEEP_ANSWERS_MS));
      forgotten = now;
    } catch (error) {
      deps.log.warn(
        { err: { name: error instanceof Error ? error.name : 'unknown' } },
        'old answers could not be forgotten; it is tried again',
      );
    }
  }

  function round(): void {
    look();
    forgetting ??= forget().finally(() => (forgetting = undefined));
  }

  round();
  const timer = setInterval(round, LOOK_MS);
  return {
    stop: async () => {
      stopped = true;
      clearInterval(timer);
      await Promise.all([forgetting, ...going]);
    },
  };
}
