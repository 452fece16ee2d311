import type { Logger } from 'pino';
import type { Database } from '../db/connect.ts';
import { refreshStatistics } from '../db/statistics.ts';

const EVERY_MS = 30_000;

/** Keeps the planner's statistics of an embedded database fresh while it is open; gives what ends it. */
export function tendStatistics(database: Database, log: Logger): () => Promise<void> {
  let ended = false;
  let running = Promise.resolve();
  const tend = () => {
    running = running.then(async () => {
      if (ended) return;
      await refreshStatistics(database).catch((error: unknown) =>
        log.warn({ err: error }, 'the statistics of the tables could not be refreshed'),
      );
    });
  };
  tend();
  const timer = setInterval(tend, EVERY_MS).unref();
  return () => {
    ended = true;
    clearInterval(timer);
    return running;
  };
}
