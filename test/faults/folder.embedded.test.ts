import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { callerOf, loadJob } from '../../api/client.ts';
import { exampleJob } from '../support/fixtures.ts';
import { processes } from '../support/processes.ts';
import { slowJob } from '../support/slowJob.ts';

// Real processes on one data folder, as a person runs them.
const started = processes();
let folder: string;

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'loomwright-folder-'));
});
afterAll(async () => {
  await started.endAll();
  rmSync(folder, { recursive: true, force: true });
});

const environment = () => ({ LOOMWRIGHT_DATA: folder, PORT: '0', LOG_LEVEL: 'error' });
const key = () => readFileSync(join(folder, 'admin-key'), 'utf8').trim();

async function serve() {
  const server = started.node(['api/main.ts'], environment());
  const [, url = ''] = await server.until(/answers at (http:\S+) \(embedded\)/);
  return { server, url, api: callerOf(url, key()) };
}

async function stateOf(
  api: ReturnType<typeof callerOf>,
  task: string,
): Promise<{ state: string; attempts: number }> {
  return (await (await api.get(task)).json()) as { state: string; attempts: number };
}

describe('an embedded data folder', () => {
  test('gets one club and one admin key at its first start, printed once and readable by its owner alone', async () => {
    const { server, api } = await serve();
    expect(server.printed()).toContain(key());
    expect(statSync(join(folder, 'admin-key')).mode & 0o777).toBe(0o600);
    expect((await (await api.get('/v1/club')).json()) as object).toMatchObject({
      name: 'My club',
      currency: 'GBP',
    });
    server.kill('SIGTERM');
    expect(await server.ended).toBe(0);
    const again = await serve();
    expect(again.server.printed()).not.toContain('lw_');
    again.server.kill('SIGTERM');
    expect(await again.server.ended).toBe(0);
  });

  test('is one process’s at a time: a second server and the key command are refused with a sentence', async () => {
    const { server } = await serve();
    for (const args of [['api/main.ts'], ['api/key.ts', '--club', 'My club', '--role', 'viewer']]) {
      const second = started.node(args, environment());
      expect(await second.ended).toBe(1);
      expect(second.printed()).toContain(`is in use by process ${server.pid}`);
    }
    server.kill('SIGTERM');
    expect(await server.ended).toBe(0);
  });

  test('opens again after its process was killed, and the task that was in hand is taken up', async () => {
    const { server, api } = await serve();
    expect((await loadJob(api, exampleJob('trailer'))).refused).toEqual([]);
    expect((await loadJob(api, slowJob({ parts: 40, suppliers: 12, seed: 3 }))).refused).toEqual([]);
    const ask = async (loom: string) => {
      const asked = await api.send('POST', '/v1/quotes', {
        looms: [{ loom, quantity: 1 }],
        settings: { solverSeconds: 4 },
      });
      return ((await asked.json()) as { task: string }).task;
    };
    const inHand = await ask('slow');
    await expect.poll(async () => (await stateOf(api, inHand)).state, { timeout: 20_000 }).toBe('running');
    const waiting = await ask('trailer-rear');
    server.kill('SIGKILL');
    expect(await server.ended).toBe('SIGKILL');
    const next = await serve();
    for (const task of [waiting, inHand])
      await expect.poll(async () => (await stateOf(next.api, task)).state, { timeout: 40_000 }).toBe('done');
    next.server.kill('SIGTERM');
    expect(await next.server.ended).toBe(0);
  }, 120_000);
});
