import type { Logger } from 'pino';
import { v7 as uuidv7 } from 'uuid';
import type { Database } from '../db/connect.ts';
import { taskHandler } from './tasks/handle.ts';
import { startLooking } from './tasks/look.ts';
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
  /** The memory that the engine may use for one task, MB. */
  threadMb?: number;
}

export interface RunningWorker {
  /** Takes nothing new; what is in hand is finished within the grace, or handed back. */
  stop(): Promise<void>;
}

/** A worker: listens for wakings, looks for work by itself as well, works tasks in threads. */
export function startWorker(options: WorkerOptions): RunningWorker {
  const { database, wake, log, threads, threadMb, meter, leaseMs, stopMs } = options;
  const own = options.pool ?? threadPool(threads, threadMb === undefined ? {} : { memoryMb: threadMb });
  const pool = meter?.pool('tasks', threads, own) ?? own;
  const letGo = new AbortController();
  const now = () => new Date();
  const deps = { database, pool, wake, log, meter, now, newId: uuidv7, leaseMs, letGo: letGo.signal };
  const next = taskHandler(deps, threads);
  const listener = options.listen(next);
  const looking = startLooking({ database, log, now, next, hands: threads });

  async function stop(): Promise<void> {
    const grace = setTimeout(() => letGo.abort(), stopMs);
    await Promise.all([looking.stop(), listener.close()]);
    clearTimeout(grace);
    if (!options.pool) await pool.close();
  }
  return { stop };
}
