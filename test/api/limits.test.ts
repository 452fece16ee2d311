import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import type { Client, Got } from '../support/client.ts';

const PER_MINUTE = 20;
const FAILED = 5;

let house: TestHouse;
let club: TestClub;

beforeAll(async () => {
  house = await openHouse({ gate: { requestsPerMinute: PER_MINUTE, failedKeysPerMinute: FAILED } });
  club = await house.club();
});
afterAll(() => house.close());

let addresses = 0;
/** The house stands behind one proxy that is trusted. */
const newAddress = () => ({ 'x-forwarded-for': `198.51.100.${++addresses}` });

let secrets = 0;
const wrongKey = () => ({ authorization: `Bearer lw_${`${++secrets}`.padStart(43, 'x')}` });

async function statuses(times: number, ask: () => Promise<Got>): Promise<number[]> {
  const got: number[] = [];
  for (let time = 0; time < times; time++) got.push((await ask()).status);
  return got;
}

async function usedUp(address: Record<string, string>): Promise<Got> {
  const ask = () => house.anonymous.get('/v1/club', { ...address, ...wrongKey() });
  expect(await statuses(FAILED, ask)).toEqual(Array(FAILED).fill(401));
  return ask();
}

/** A wait in whole seconds, of at most the minute that a window lasts. */
function wait(text: string | null): number {
  expect(text).toMatch(/^[1-9]\d?$/);
  expect(Number(text)).toBeLessThanOrEqual(60);
  return Number(text);
}

describe('a key that asks too often', () => {
  let viewer: Client;
  let refused: Got;
  beforeAll(async () => {
    viewer = await club.as('viewer');
    expect(await statuses(PER_MINUTE, () => viewer.get('/v1/club'))).toEqual(Array(PER_MINUTE).fill(200));
    refused = await viewer.get('/v1/club');
  });

  test('is told how long to wait, in the words and in the headers', () => {
    expect(refused.status).toBe(429);
    const seconds = wait(refused.headers.get('retry-after'));
    expect(refused.headers.get('ratelimit-policy')).toBe(`"key";q=${PER_MINUTE};w=60`);
    expect(refused.headers.get('ratelimit')).toBe(`"key";r=0;t=${seconds}`);
    expect(refused.json()['detail']).toContain(`Wait ${seconds} second`);
  });

  test('keeps no other key of its club from asking', async () => {
    const other = await club.as('viewer');
    expect((await other.get('/v1/club')).status).toBe(200);
  });

  test('is refused before its request does anything', async () => {
    const editor = await club.as('editor');
    await statuses(PER_MINUTE, () => editor.get('/v1/club'));
    const supplier = { code: 'late', name: 'Late', currency: 'GBP' };
    expect((await editor.post('/v1/suppliers', supplier)).status).toBe(429);
    const other = await club.as('viewer');
    expect((await other.get('/v1/suppliers/late')).status).toBe(404);
  });

  test('keeps nobody from asking whether the server is well', async () => {
    const ask = (path: string) => () => viewer.get(path);
    for (const path of ['/healthz', '/readyz', '/openapi.json'])
      expect(await statuses(3, ask(path))).toEqual([200, 200, 200]);
  });
});

describe('an address that sends keys that are not valid', () => {
  test('is told how long to wait', async () => {
    const refused = await usedUp(newAddress());
    expect(refused.status).toBe(429);
    const seconds = wait(refused.headers.get('retry-after'));
    expect(refused.headers.get('ratelimit')).toBe(`"address";r=0;t=${seconds}`);
    expect(refused.headers.get('ratelimit-policy')).toBe(`"address";q=${FAILED};w=60`);
  });

  test('keeps no other address from being told that its key is not valid', async () => {
    await usedUp(newAddress());
    expect((await house.anonymous.get('/v1/club', { ...newAddress(), ...wrongKey() })).status).toBe(401);
  });

  test('keeps out a key that was never seen, but none that was at work from there', async () => {
    const shared = newAddress();
    const atWork = (await club.as('viewer')).with(shared);
    const neverSeen = (await club.as('viewer')).with(shared);
    expect((await atWork.get('/v1/club')).status).toBe(200);
    await usedUp(shared);
    expect((await atWork.get('/v1/club')).status).toBe(200);
    expect((await neverSeen.get('/v1/club')).status).toBe(429);
    expect((await neverSeen.get('/v1/club', newAddress())).status).toBe(200);
  });

  test('is not counted for good keys, nor for requests without a key', async () => {
    const address = newAddress();
    const asked = Array.from({ length: FAILED + 2 }, () => club.as('viewer'));
    for (const key of await Promise.all(asked))
      expect((await key.with(address).get('/v1/club')).status).toBe(200);
    const without = () => house.anonymous.get('/v1/club', address);
    expect(await statuses(FAILED + 2, without)).toEqual(Array(FAILED + 2).fill(401));
    expect((await house.anonymous.get('/v1/club', { ...address, ...wrongKey() })).status).toBe(401);
  });

  test('does not get round its limit by sending many at once', async () => {
    const address = newAddress();
    const asked = Array.from({ length: 3 * FAILED }, () =>
      house.anonymous.get('/v1/club', { ...address, ...wrongKey() }),
    );
    const told = (await Promise.all(asked)).map(({ status }) => status);
    expect(told.filter((status) => status === 401)).toHaveLength(FAILED);
    expect(told.filter((status) => status === 429)).toHaveLength(2 * FAILED);
  });
});

test('a key that is revoked opens nothing from the next request on', async () => {
  const admin = await club.as('admin');
  const made = await admin.post('/v1/keys', { role: 'viewer', label: 'short-lived' });
  const { id, secret } = made.json<{ id: string; secret: string }>();
  const holder = house.anonymous.with({ authorization: `Bearer ${secret}` });
  expect((await holder.get('/v1/club')).status).toBe(200);
  expect((await admin.delete(`/v1/keys/${id}`)).status).toBe(204);
  expect((await holder.get('/v1/club')).status).toBe(401);
});
