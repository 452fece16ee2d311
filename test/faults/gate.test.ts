import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import { createKey } from '../../db/keys.ts';
import { figure } from '../support/figures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { LONG } from '../support/long.ts';
import { processes } from '../support/processes.ts';
import { privateRedis } from '../support/servers.ts';

// Two API processes on one PostgreSQL, and a Redis of their own that stops for a while.
const PER_MINUTE = 60;
const REVOKED = LONG ? 30 : 5;

const started = processes();
let redis: Awaited<ReturnType<typeof privateRedis>>;
let house: TestHouse;
let club: TestClub;
let one: string;
let other: string;

beforeAll(async () => {
  redis = await privateRedis();
  house = await openHouse({ redisUrl: redis.url });
  club = await house.club();
  const environment = {
    ...house.environment,
    PORT: '0',
    LOOMWRIGHT_REQUESTS_PER_MINUTE: `${PER_MINUTE}`,
  };
  const apis = [1, 2].map(() => started.node(['api/main.ts'], environment));
  const urls = await Promise.all(apis.map((api) => api.until(/answers at (http:\S+) /)));
  [one, other] = urls.map(([, url = '']) => url) as [string, string];
});
afterAll(async () => {
  await started.endAll();
  await house.close();
  await redis.stop();
});

async function newKey(role: 'viewer' | 'admin') {
  const { key, secret } = await club.run((ctx) => createKey({ ctx, input: { role, label: role } }));
  const send = async (url: string, method = 'GET', path = '/v1/club') => {
    const answer = await fetch(`${url}${path}`, { method, headers: { authorization: `Bearer ${secret}` } });
    await answer.arrayBuffer();
    return answer.status;
  };
  return { id: key.id, send };
}

/** How many requests are let through before the first that is refused. */
async function throughAt(url: string, send: (url: string) => Promise<number>): Promise<number> {
  for (let through = 0; ; through++) {
    const status = await send(url);
    if (status === 429) return through;
    expect(status).toBe(200);
  }
}

test('a key that one process revoked opens nothing there at once, and soon nothing at another', async () => {
  const admin = await newKey('admin');
  let longest = 0;
  for (let time = 0; time < REVOKED; time++) {
    const { id, send } = await newKey('viewer');
    expect([await send(one), await send(other)]).toEqual([200, 200]);
    expect(await admin.send(one, 'DELETE', `/v1/keys/${id}`)).toBe(204);
    const revokedAt = performance.now();
    expect(await send(one)).toBe(401);
    await vi.waitFor(async () => expect(await send(other)).toBe(401), { timeout: 20_000, interval: 100 });
    longest = Math.max(longest, performance.now() - revokedAt);
    expect(await send(other)).toBe(401);
  }
  figure('keys revoked at one process and refused by another', REVOKED, 'keys');
  figure('longest time until the other process refused a revoked key', Math.round(longest), 'ms');
});

test('a key that used its limit up at one process is refused by another too', async () => {
  const { send } = await newKey('viewer');
  expect(await throughAt(one, send)).toBe(PER_MINUTE);
  let through = 0;
  await vi.waitFor(
    async () => {
      const status = await send(other);
      if (status === 200) through++;
      expect(status).toBe(429);
    },
    { timeout: 20_000, interval: 400 },
  );
  expect(through).toBeLessThan(PER_MINUTE);
  figure(
    'requests let through by a second process after the limit was used up at the first',
    through,
    'requests',
  );
});

test('a Redis that hangs holds no read up, and each process keeps the limit by itself', async () => {
  const warm = await newKey('viewer');
  await warm.send(one);
  process.kill(redis.pid, 'SIGSTOP');
  try {
    const { send } = await newKey('viewer');
    let longest = 0;
    const timed = async (url: string) => {
      const from = performance.now();
      const status = await send(url);
      longest = Math.max(longest, performance.now() - from);
      return status;
    };
    expect(await throughAt(one, timed)).toBe(PER_MINUTE);
    figure('longest read while Redis hangs', Math.round(longest), 'ms');
  } finally {
    process.kill(redis.pid, 'SIGCONT');
  }
});

test('a Redis that is gone ends nothing, and each process keeps the limit by itself', async () => {
  process.kill(redis.pid, 'SIGKILL');
  const { send } = await newKey('viewer');
  expect(await throughAt(other, send)).toBe(PER_MINUTE);
  expect((await fetch(`${other}/healthz`)).status).toBe(200);
});
