import { readFileSync, statfsSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeEach, beforeAll, describe, expect, test } from 'vitest';
import { figure } from '../support/figures.ts';
import { processes, type Started } from '../support/processes.ts';
import { smallDisk, type SmallDisk } from '../support/smallDisk.ts';
import { ring } from '../support/fixtures.ts';

// A real process whose data folder is on a small disk.
const started = processes();
let disk: SmallDisk | null;

beforeAll(() => {
  disk = smallDisk(200);
});
afterAll(async () => {
  await started.endAll();
  disk?.remove();
});
beforeEach((context) => {
  if (!disk) context.skip('no disk can be mounted here: this needs root');
});

const folder = () => join(disk?.folder ?? '', 'data');
const start = () =>
  started.node(['api/main.ts'], { LOOMWRIGHT_DATA: folder(), PORT: '0', LOG_LEVEL: 'warn' });

async function serve(): Promise<{ server: Started; url: string }> {
  const server = start();
  const [, url = ''] = await server.until(/answers at (http:\S+) \(embedded\)/, 60_000);
  return { server, url };
}

async function call(url: string, method: string, path: string, body?: unknown) {
  const key = readFileSync(join(folder(), 'admin-key'), 'utf8').trim();
  const answer = await fetch(`${url}${path}`, {
    method,
    headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
  });
  return { status: answer.status, text: await answer.text() };
}

describe('a full disk under a data folder', () => {
  const add = (url: string, code: string) => call(url, 'POST', '/v1/parts', { ...ring, code });
  let written = 0;

  test('is told to who writes, in the log and by readiness; reading goes on, and writing as soon as there is room', async () => {
    const { server, url } = await serve();
    expect((await add(url, 'first')).status).toBe(201);
    // Room enough to begin: what is written uses it up.
    disk?.fill(40 * 1024 ** 2 + 128 * 1024);
    let refused: Awaited<ReturnType<typeof call>> | undefined;
    while (refused === undefined && written < 5_000) {
      const got = await add(url, `part-${written}`);
      if (got.status === 201) written++;
      else refused = got;
    }
    expect([refused?.status, refused?.text]).toEqual([507, expect.stringContaining('Nothing was stored.')]);
    await server.until(/"sqlState":"53100"/);
    const down = await call(url, 'GET', '/readyz');
    expect([down.status, down.text]).toEqual([
      503,
      expect.stringContaining('The disk of the database is full'),
    ]);
    // Others take all the rest.
    disk?.fill(0);
    expect((await call(url, 'GET', '/v1/parts/first')).status).toBe(200);
    expect((await add(url, 'no-room')).status).toBe(507);
    disk?.free();
    expect((await call(url, 'GET', '/readyz')).status).toBe(200);
    expect((await add(url, 'room-again')).status).toBe(201);
    disk?.fill(0);
    server.kill('SIGTERM');
    expect(await server.ended).toBe(0);
    figure('parts written to a folder before a full disk refused one', written, 'parts');
  }, 120_000);

  test('is said by the next start in a sentence; with room, all that was written is there', async () => {
    const refused = start();
    expect(await refused.ended).toBe(1);
    expect(refused.printed()).toMatch(
      /The disk of the data folder .* is full: 0 MiB are free, and \d+ MiB are needed\./,
    );
    disk?.free();
    const { server, url } = await serve();
    for (const code of ['first', `part-${written - 1}`, 'room-again'])
      expect((await call(url, 'GET', `/v1/parts/${code}`)).status).toBe(200);
    expect((await call(url, 'GET', '/v1/parts/no-room')).status).toBe(404);
    expect(statfsSync(folder()).bavail).toBeGreaterThan(0);
    server.kill('SIGTERM');
    expect(await server.ended).toBe(0);
  }, 120_000);
});
