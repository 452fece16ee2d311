import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { callerOf, type Caller } from '../../api/client.ts';
import { figure } from '../support/figures.ts';
import { LONG } from '../support/long.ts';
import { processes, type Started } from '../support/processes.ts';
import { randomBelow } from '../support/randomBelow.ts';

// A server on a data folder is killed in the middle of writes, again and again, as by a power switch on a laptop.
const KILLS = LONG ? 100 : 30;
const started = processes();
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'loomwright-killed-'));
});
afterAll(async () => {
  await started.endAll();
  rmSync(folder, { recursive: true, force: true });
});

async function serve(): Promise<{ server: Started; api: Caller }> {
  const env = { LOOMWRIGHT_DATA: folder, PORT: '0', LOG_LEVEL: 'error' };
  const server = started.node(['api/main.ts'], env);
  const [, url = ''] = await server.until(/answers at (http:\S+) /, 90_000);
  return { server, api: callerOf(url, readFileSync(join(folder, 'admin-key'), 'utf8').trim()) };
}

const write = (api: Caller, code: string) =>
  api.send(
    'POST',
    '/v1/parts',
    { code, kind: 'terminal', terminalType: 'ring', description: `Ring ${code}` },
    { 'idempotency-key': code },
  );

/** The codes of all parts, page by page. */
async function stored(api: Caller): Promise<string[]> {
  const codes: string[] = [];
  for (let path: string | null | undefined = '/v1/parts?limit=500'; path;) {
    const page = (await (await api.get(path)).json()) as { items: { code: string }[]; next?: string | null };
    codes.push(...page.items.map(({ code }) => code));
    path = page.next;
  }
  return codes;
}

test('A server that is killed in the middle of writes has everything that it acknowledged, once, when it starts again', async () => {
  const random = randomBelow(1_703);
  const acknowledged: string[] = [];
  /** Was under way at the kill: its client heard nothing, and asks again. */
  let unheard: string | undefined;
  let repeated = 0;
  for (let kill = 0; kill <= KILLS; kill++) {
    const { server, api } = await serve();
    if (unheard !== undefined) {
      const again = await write(api, unheard);
      expect(again.status).toBe(201);
      if (again.headers.get('idempotent-replay') === 'true') repeated++;
      acknowledged.push(unheard);
      unheard = undefined;
    }
    expect((await stored(api)).sort()).toEqual([...acknowledged].sort());
    if (kill === KILLS) {
      server.kill('SIGTERM');
      expect(await server.ended).toBe(0);
      break;
    }
    const before = random(8);
    for (let n = 0; n < before; n++) {
      const code = `k${kill}-${n}`;
      expect((await write(api, code)).status).toBe(201);
      acknowledged.push(code);
    }
    unheard = `k${kill}-last`;
    const last = write(api, unheard).then(
      ({ status }) => status,
      () => undefined,
    );
    // A request takes some milliseconds: the kill comes before, in or after its write.
    await new Promise((resolve) => setTimeout(resolve, random(12)));
    server.kill('SIGKILL');
    expect(await server.ended).toBe('SIGKILL');
    const heard = await last;
    if (heard !== undefined) {
      expect(heard).toBe(201);
      acknowledged.push(unheard);
      unheard = undefined;
    }
  }
  expect(acknowledged.length).toBeGreaterThan(KILLS);
  figure('kills of an embedded server in the middle of writes', KILLS, 'kills');
  figure('writes that it had acknowledged, and had again', acknowledged.length, 'writes');
  figure('writes that were stored at a kill without an answer, and answered once more', repeated, 'writes');
}, 900_000);
