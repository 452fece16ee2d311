import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import type { Database } from '../db/connect.ts';
import { taskHandler } from './tasks/handle.ts';
import { startSweeping, sweepOnce } from './tasks/sweep.ts';
import { threadPool, type Pool } from './threads/pool.ts';
import type { Meter } from './metrics/meter.ts';
import type { Handle, Listener, Wake } from './wake/wake.ts';

export interface WorkerOptions {
  database: Database;
  wake: Wake;
  listen: (handle: Handle) => Listener;
  log: Logger;
  threads: number;
  /** Threads that others use as well, which stay open at the end; without it, so many of its own. */
  pool?: Pool;
  meter?: Meter | undefined;
  leaseMs: number;
  stopMs: number;
  /** Wake at once whatever waits: where wakings live in this process alone, those of an earlier one are gone. */
  wakeAllFirst: boolean;
}

export interface RunningWorker {
  /** Takes nothing new; what is in hand is finished within the grace, or handed back. */
  stop(): Promise<void>;
}

/** A worker: listens for wakings, works tasks in threads, sweeps up what nobody works at. */
export async function startWorker(options: WorkerOptions): Promise<RunningWorker> {
  const { database, wake, log, threads, meter, leaseMs, stopMs } = options;
  const own = options.pool ?? threadPool(threads);
  const pool = meter?.pool('tasks', threads, own) ?? own;
  const letGo = new AbortController();
  const now = () => new Date();
  const handle = taskHandler({
    database,
    pool,
    wake,
    log,
    meter,
    now,
    newId: uuidv7,
    leaseMs,
    letGo: letGo.signal,
  });
  const listener = options.listen(handle);
  if (options.wakeAllFirst) await sweepOnce({ database, wake, log }, 0);
  const sweeper = startSweeping({ database, wake, log, now });

  async function stop(): Promise<void> {
    const grace = setTimeout(() => letGo.abort(), stopMs);
    await Promise.all([sweeper.stop(), listener.close()]);
    clearTimeout(grace);
    if (!options.pool) await pool.close();
  }
  return { stop };
}
