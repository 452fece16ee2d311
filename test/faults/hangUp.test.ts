import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import type { Client } from '../support/client.ts';
import { figure } from '../support/figures.ts';
import { loadSmall } from '../support/fixtures.ts';
import { apiOf } from '../support/fleet.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { LONG } from '../support/long.ts';
import { processes, type Started } from '../support/processes.ts';
import { askQuote } from '../support/taskRows.ts';

const STREAMS = LONG ? 3_000 : 600;

// A real API process, and clients that go away without a word, at every moment of a request.
const started = processes();
let house: TestHouse;
let club: TestClub;
let editor: Client;
let api: Started;
let url: URL;
let secret: string;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  const made = await (await club.as('admin')).post('/v1/keys', { role: 'editor', label: 'on the wire' });
  ({ secret } = made.json<{ secret: string }>());
  const begun = await apiOf(started, house);
  api = begun.api;
  url = new URL(begun.url);
});
afterEach(async () => {
  expect((await fetch(new URL('/healthz', url))).status).toBe(200);
});
afterAll(async () => {
  await started.endAll();
  await house.close();
});

async function dial(): Promise<Socket> {
  const socket = connect(Number(url.port), url.hostname);
  socket.on('error', () => undefined);
  await once(socket, 'connect');
  return socket;
}

const head = (method: string, path: string, more = '') =>
  `${method} ${path} HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer ${secret}\r\n${more}\r\n`;

/** Error and warning lines of the log. */
const troubles = () => api.printed().match(/^.*("level":(40|50|60)|Warning|Error).*$/gm) ?? [];

describe('a client that hangs up', () => {
  test.each([
    ['while it sends its body', 'Content-Type: application/json\r\nContent-Length: 100000\r\n', '{"code":'],
    [
      'before its body is whole, in pieces',
      'Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n',
      '5\r\n{"cod\r\n',
    ],
  ])('%s is no error in the log', async (_when, headers, body) => {
    for (let n = 0; n < 20; n++) {
      const socket = await dial();
      socket.write(head('POST', '/v1/parts', headers) + body);
      if (n % 2 === 0) socket.resetAndDestroy();
      else socket.end(() => socket.destroy());
    }
    await vi.waitFor(
      () => expect(api.printed().match(/"path":"\/v1\/parts"/g)?.length).toBeGreaterThanOrEqual(1),
      {
        timeout: 20_000,
      },
    );
    expect(troubles()).toEqual([]);
  });

  test('before or while it reads its answer is no error in the log', async () => {
    for (let n = 0; n < 20; n++) {
      const socket = await dial();
      socket.write(head('GET', '/openapi.json'));
      if (n % 2 === 0) await once(socket, 'data');
      socket.resetAndDestroy();
    }
    expect(troubles()).toEqual([]);
  });
});

describe('event streams', () => {
  test(`${STREAMS} short ones leave nothing behind: no listener too many, and room for all that a key may have`, async () => {
    const { task } = await askQuote(editor, 'loom');
    let opened = 0;
    for (let round = 0; round < STREAMS / 50; round++)
      await Promise.all(
        Array.from({ length: 50 }, async (_, n) => {
          const socket = await dial();
          socket.write(head('GET', `/v1/tasks/${task}/events`));
          // Some go before they have an answer, some when they have read of it.
          if (n % 5 !== 0) await once(socket, 'data');
          if (n % 2 === 0) socket.resetAndDestroy();
          else socket.destroy();
          opened++;
        }),
      );
    expect(opened).toBe(STREAMS);
    expect(troubles()).toEqual([]);
    // As many as one key may have open: had any of those stayed, there were no room.
    const all: Socket[] = [];
    await vi.waitFor(
      async () => {
        while (all.length < 100) {
          const socket = await dial();
          socket.write(head('GET', `/v1/tasks/${task}/events`));
          const [answer] = (await once(socket, 'data')) as [Buffer];
          if (!answer.toString().startsWith('HTTP/1.1 200')) {
            socket.destroy();
            throw new Error(answer.toString().slice(0, 200));
          }
          all.push(socket);
        }
      },
      { timeout: 20_000, interval: 200 },
    );
    for (const socket of all) socket.destroy();
    figure('event streams opened and left', opened, 'streams');
    api.kill('SIGTERM');
    expect(await api.ended).toBe(0);
    ({ api } = await apiOf(started, house));
    url = new URL(/answers at (http:\S+) /.exec(api.printed())?.[1] ?? url);
  }, 120_000);
});
