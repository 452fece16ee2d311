import { DelayedError, Queue, Worker, type Job } from 'bullmq';
import { Redis } from 'ioredis';
import type { Logger } from 'pino';
import type { Handle, Listener, Wake } from './wake.ts';

const QUEUE = 'tasks';
/** Within this time BullMQ sees that a worker has died and gives its job to another. */
const STALLED_CHECK_MS = 2_000;
/** Nothing is decided by stalls: the task row counts attempts. */
const STALLS_ALLOWED = 50;

export interface QueueOptions {
  url: string;
  /** What the keys in Redis begin with: apart for each service on one Redis. */
  prefix: string;
  log: Logger;
}

/** An unreachable Redis is told once when it goes and once when it is back, not at every attempt to reach it. */
function tellOutages(redis: Redis, log: Logger, who: string): Redis {
  let down = false;
  redis.on('error', (error: Error) => {
    if (!down)
      log.warn(
        { who, err: { name: error.name } },
        'Redis does not answer; wakings wait for it or for the sweep',
      );
    down = true;
  });
  redis.on('ready', () => {
    if (down) log.info({ who }, 'Redis answers again');
    down = false;
  });
  return redis;
}

/** The producer: fails fast where Redis is away, since the sweep makes good what it could not give. */
export function queueWake({ url, prefix, log }: QueueOptions): Wake {
  const redis = tellOutages(
    new Redis(url, { enableOfflineQueue: false, maxRetriesPerRequest: 1 }),
    log,
    'wake',
  );
  const queue = new Queue(QUEUE, { connection: redis, prefix, skipWaitingForReady: true });
  queue.on('error', () => undefined);
  return {
    wake: async ({ id, wakeNumber }) => {
      // BullMQ ignores an id that it still has, so every waking is a job of its own.
      await queue.add(
        'wake',
        { id },
        { jobId: `${id}-${wakeNumber}`, removeOnComplete: true, removeOnFail: true },
      );
    },
    ready: async () => void (await redis.ping()),
    close: async () => {
      await queue.close().catch(() => undefined);
      redis.disconnect();
    },
  };
}

export interface ListenOptions extends QueueOptions {
  concurrency: number;
  /** The job's lock lasts as long as the task's lease. */
  leaseMs: number;
}

/** The worker's end: a job is held while its task is worked. */
export function queueListen(handle: Handle, options: ListenOptions): Listener {
  const { url, prefix, log, concurrency, leaseMs } = options;
  const redis = tellOutages(new Redis(url, { maxRetriesPerRequest: null }), log, 'listen');
  const worker = new Worker(
    QUEUE,
    async (job: Job<{ id: string }>, token?: string) => {
      const handled = await handle(job.data.id);
      if (handled.outcome === 'over') return;
      await job.moveToDelayed(Date.now() + handled.inMs, token);
      throw new DelayedError();
    },
    {
      connection: redis,
      prefix,
      concurrency,
      lockDuration: leaseMs,
      stalledInterval: STALLED_CHECK_MS,
      maxStalledCount: STALLS_ALLOWED,
    },
  );
  worker.on('error', () => undefined);
  return {
    close: async () => {
      await worker.close();
      redis.disconnect();
    },
  };
}
