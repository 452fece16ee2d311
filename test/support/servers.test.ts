import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { Redis } from 'ioredis';
import { expect, onTestFinished, test, type TestContext } from 'vitest';
import { findBinaries } from './binaries.ts';
import { planServers, skipReason } from './plan.ts';
import { privateRedis } from './servers.ts';

function needsRedis({ skip }: TestContext): void {
  const reason = skipReason(planServers({ DATABASE_URL: 'not needed' }, findBinaries()), process.env);
  if (reason !== null) skip(reason);
}

/** A client that does not come back: its 'end' says that the server is gone. */
function clientOf(url: string): Redis {
  const client = new Redis(url, { retryStrategy: () => null });
  client.on('error', () => {});
  onTestFinished(() => client.disconnect());
  return client;
}

test('a private Redis answers until it is stopped, and its process is gone then', async (context) => {
  needsRedis(context);
  const redis = await privateRedis();
  onTestFinished(() => redis.stop());
  const client = clientOf(redis.url);
  expect(await client.ping()).toBe('PONG');
  const end = once(client, 'end');
  await redis.stop();
  await end;
  expect(() => process.kill(redis.pid, 0)).toThrow('ESRCH');
});

test('servers end with the process that asked for them, even where it is killed', async (context) => {
  needsRedis(context);
  const servers = new URL('servers.ts', import.meta.url).href;
  const script = `const { privateRedis } = await import('${servers}');
    process.stdout.write((await privateRedis()).url + '\\n');
    setInterval(() => {}, 60_000);`;
  const asker = spawn(process.execPath, ['--import', 'tsx', '--input-type=module', '--eval', script], {
    cwd: fileURLToPath(new URL('../..', import.meta.url)),
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  onTestFinished(() => void asker.kill('SIGKILL'));
  const [url] = (await once(asker.stdout.setEncoding('utf8'), 'data')) as [string];
  const client = clientOf(url.trim());
  expect(await client.ping()).toBe('PONG');
  const end = once(client, 'end');
  asker.kill('SIGKILL');
  await end;
  expect(client.status).toBe('end');
});
