import { randomBytes } from 'node:crypto';
import { Redis } from 'ioredis';
import type { Launcher } from './launcher.ts';

/** Starts a private Redis that writes nothing to disk. */
export async function startRedis(launcher: Launcher, binary: string) {
  const folder = launcher.folder('redis');
  const password = randomBytes(16).toString('hex');
  const urlAt = (port: number) => `redis://:${password}@127.0.0.1:${port}`;
  const { port, pid } = await launcher.serve({
    name: 'redis',
    command: binary,
    args: () => ['-'],
    input: (port) =>
      [
        'bind 127.0.0.1',
        `port ${port}`,
        `requirepass ${password}`,
        `dir ${folder}`,
        'save ""',
        'appendonly no',
        '',
      ].join('\n'),
    answers: (port) => answers(urlAt(port)),
  });
  return { url: urlAt(port), pid };
}

async function answers(url: string): Promise<void> {
  const redis = new Redis(url, { lazyConnect: true, retryStrategy: () => null, maxRetriesPerRequest: 0 });
  redis.on('error', () => {});
  try {
    await redis.connect();
    await redis.ping();
  } finally {
    redis.disconnect();
  }
}
