import { Queue, Worker, type Job } from 'bullmq';
import { Redis } from 'ioredis';
import { once } from 'node:events';
import { setTimeout as pause } from 'node:timers/promises';
import type { Logger } from 'pino';
import type { Handle, Listener, Wake } from './wake.ts';

const QUEUE = 'tasks';
/** Within this time BullMQ sees that a worker has died and gives its job to another. */
const STALLED_CHECK_MS = 2_000;
/** Nothing is decided by stalls: the task row counts. */
const STALLS_ALLOWED = 50;
/** How long a listener with nothing in hand waits for Redis when it closes: one that is away is not waited for. */
const GOODBYE_MS = 2_000;

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
        'Redis does not answer; workers look for work by themselves meanwhile',
      );
    down = true;
  });
  redis.on('ready', () => {
    if (down) log.info({ who }, 'Redis answers again');
    down = false;
  });
  return redis;
}

/** How long a waking waits for a connection that is just being made; later a worker's own look is sooner. */
const CONNECT_MS = 500;

/** How long a waking waits for the answer of a Redis that is connected and says nothing. */
const ANSWER_MS = 1_000;

/** The producer: fails fast where Redis is away, since workers look for work by themselves as well. */
export function queueWake({ url, prefix, log }: QueueOptions): Wake {
  const redis = tellOutages(
    new Redis(url, { enableOfflineQueue: false, maxRetriesPerRequest: 1, commandTimeout: ANSWER_MS }),
    log,
    'wake',
  );
  let queue: Queue | undefined;

  // BullMQ asks Redis for its version when a queue is made, and a queue whose question failed stays broken.
  redis.on('ready', () => {
    if (queue) return;
    const made = new Queue(QUEUE, { connection: redis, prefix });
    made.on('error', () => undefined);
    made.waitUntilReady().catch(() => (queue = undefined));
    queue = made;
  });

  async function connected(): Promise<Queue> {
    if (redis.status !== 'ready') {
      const gaveUp = AbortSignal.timeout(CONNECT_MS);
      await once(redis, 'ready', { signal: gaveUp }).catch(() => undefined);
    }
    if (redis.status !== 'ready' || queue === undefined) throw new Error('Redis does not answer');
    return queue;
  }

  return {
    wake: async ({ id, wakeNumber }) => {
      // BullMQ ignores an id that it still has, so every waking is a job of its own.
      const options = { jobId: `${id}-${wakeNumber}`, removeOnComplete: true, removeOnFail: true };
      await (await connected()).add('wake', { id }, options);
    },
    ready: async () => {
      await connected();
      await redis.ping();
    },
    close: async () => {
      await queue?.close().catch(() => undefined);
      redis.disconnect();
    },
  };
}

export interface ListenOptions extends QueueOptions {
  concurrency: number;
  /** The job's lock lasts as long as the task's lease. */
  leaseMs: number;
}

/** The worker's end: a job is held while a task is worked, so that wakings go to workers with a free hand. */
export function queueListen(handle: Handle, options: ListenOptions): Listener {
  const { url, prefix, log, concurrency, leaseMs } = options;
  const redis = tellOutages(new Redis(url, { maxRetriesPerRequest: null }), log, 'listen');
  const inHand = new Set<Promise<unknown>>();
  const worker = new Worker(
    QUEUE,
    async (job: Job<{ id: string }>) => {
      const handling = handle(job.data.id);
      inHand.add(handling);
      await handling.finally(() => inHand.delete(handling));
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
      let closed = false;
      const closing = worker.close().then(
        () => (closed = true),
        () => (closed = true),
      );
      do {
        await Promise.allSettled(inHand);
        await Promise.race([closing, pause(GOODBYE_MS, undefined, { ref: false })]);
      } while (!closed && inHand.size > 0);
      redis.disconnect();
    },
  };
}
