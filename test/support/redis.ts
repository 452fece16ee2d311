import { randomUUID } from 'node:crypto';
import { inject } from 'vitest';

/** A key prefix that no other test uses, short enough for LOOMWRIGHT_QUEUE. */
export function freshPrefix(): string {
  return `test-${randomUUID()}`;
}

/** The run's Redis and a prefix of the caller's own in it; nobody may empty it. Call it in service mode. */
export function freshRedis(): { url: string; prefix: string } {
  const url = inject('redisUrl');
  if (url === null) throw new Error('freshRedis is for service mode; this run has no Redis.');
  return { url, prefix: freshPrefix() };
}
