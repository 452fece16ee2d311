import { Redis } from 'ioredis';
import { RateLimiterRedis } from 'rate-limiter-flexible';
import type { SharedCounts } from './tally.ts';

/** How long a count waits for a Redis that is connected and says nothing. */
const ANSWER_MS = 1_000;
const WINDOW_SECONDS = 60;

/** Counts that all processes with the same Redis and prefix share. A Redis that is away is for others to tell. */
export function redisCounts({ url, prefix }: { url: string; prefix: string }): {
  of: (what: string) => SharedCounts;
  close: () => void;
} {
  const redis = new Redis(url, {
    enableOfflineQueue: false,
    maxRetriesPerRequest: 1,
    commandTimeout: ANSWER_MS,
  });
  redis.on('error', () => undefined);
  return {
    of: (what) => {
      const limiter = new RateLimiterRedis({
        storeClient: redis,
        keyPrefix: `${prefix}:limit:${what}`,
        // Who is over the limit is decided by who asked: here it is only counted.
        points: Number.MAX_SAFE_INTEGER,
        duration: WINDOW_SECONDS,
        rejectIfRedisNotReady: true,
      });
      return {
        add: async (name, count) => {
          const { consumedPoints, msBeforeNext } = await limiter.penalty(name, count);
          return { sum: consumedPoints, endsInMs: msBeforeNext };
        },
      };
    },
    close: () => redis.disconnect(),
  };
}
