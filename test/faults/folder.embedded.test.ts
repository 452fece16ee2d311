import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleJob } from '../support/fixtures.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { connectEmbedded } from '../../db/connect.ts';
import { keys } from '../../db/schema/index.ts';
import { asSystem } from '../../db/system.ts';
import { callerOf, type Caller } from '../../api/client.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import { processes, type Started } from '../support/processes.ts';
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

// A short lease: what a killed process held is free again the sooner.
const environment = () => ({
  LOOMWRIGHT_DATA: folder,
  LOOMWRIGHT_LEASE_SECONDS: '1',
  PORT: '0',
  LOG_LEVEL: 'error',
});
const key = () => readFileSync(join(folder, 'admin-key'), 'utf8').trim();

async function serve(): Promise<{ server: Started; api: Caller; url: string }> {
  const server = started.node(['api/main.ts'], environment());
  const [, url = ''] = await server.until(/answers at (http:\S+) \(embedded\)/);
  return { server, api: callerOf(url, key()), url };
}

async function stateOf(api: Caller, task: string): Promise<{ state: string; attempts: number }> {
  return (await (await api.get(task)).json()) as { state: string; attempts: number };
}

/** Asks for a quote of the slow loom and gives its task's path. */
async function ask(api: Caller, solverSeconds: number): Promise<string> {
  const body = { looms: [{ loom: 'slow', quantity: 1 }], settings: { solverSeconds } };
  const asked = await api.send('POST', '/v1/quotes', body);
  return ((await asked.json()) as { task: string }).task;
}

// One after the other: each test goes on with the server that the one before it left running.
describe('an embedded data folder', () => {
  let running: Awaited<ReturnType<typeof serve>>;

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
    running = await serve();
    expect(running.server.printed()).not.toContain('lw_');
  });

  test('is one process’s at a time: a second server and the key command are refused with a sentence', async () => {
    const commands = [['api/main.ts'], ['api/key.ts', '--club', 'My club', '--role', 'viewer']];
    const refused = commands.map((args) => started.node(args, environment()));
    for (const second of refused) {
      expect(await second.ended).toBe(1);
      expect(second.printed()).toContain(`is in use by process ${running.server.pid}`);
    }
  });

  test('is loaded by a command that says what it added, what was there, what differs, and whose terms hold', async () => {
    const load = async (...args: string[]) => {
      const command = started.node(
        ['api/load.ts', 'examples/three-wires/job.json', '--url', running.url, ...args],
        environment(),
      );
      return { code: await command.ended, printed: command.printed() };
    };
    const first = await load();
    expect(first.code).toBe(0);
    expect(first.printed).toMatch(
      /^Added \d+, updated 0, the same 0, different but not changed 0, not loaded 0\.$/m,
    );
    const [part] = Job.parse(exampleJob('three-wires')).parts;
    const read = await running.api.get(`/v1/parts/${part?.code}`);
    const tag = { 'if-match': read.headers.get('etag') ?? '' };
    await running.api.send('PUT', `/v1/parts/${part?.code}`, { ...part, note: 'Mine' }, tag);
    const again = await load('--terms');
    expect(again.code).toBe(1);
    expect(again.printed).toMatch(
      /^Added 0, updated 0, the same \d+, different but not changed 1, not loaded 0\.$/m,
    );
    const differs = `part ${part?.code} differs, and was not changed:\n  note: “Mine” in the club, nothing in the file\n`;
    expect(again.printed).toContain(differs);
    const preview = await load('--preview');
    expect([preview.code, preview.printed]).toEqual([0, expect.stringContaining('Nothing was written.')]);
    const update = await load('--update');
    expect([update.code, update.printed]).toEqual([
      0,
      expect.stringContaining(`part ${part?.code} was updated:\n  note: “Mine” before, nothing now\n`),
    ]);
    expect(await (await running.api.get(`/v1/parts/${part?.code}`)).json()).toEqual(part);
  });

  test('whose first key was taken away gets another at the next start, so that nobody is shut out', async () => {
    const { items } = (await (await running.api.get('/v1/keys')).json()) as { items: { id: string }[] };
    const gone = key();
    const refused = await fetch(`${running.url}/v1/keys/${items[0]?.id}`, {
      method: 'DELETE',
      headers: { authorization: `Bearer ${gone}` },
    });
    // The last key of an admin stays. Earlier versions let it be revoked.
    expect(refused.status).toBe(409);
    running.server.kill('SIGTERM');
    await running.server.ended;
    const database = await connectEmbedded({ folder });
    await asSystem(database, (tx) => tx.update(keys).set({ revokedAt: new Date() }));
    await database.close();
    running = await serve();
    expect(key()).not.toBe(gone);
    expect(running.server.printed()).toContain(key());
    const { items: parts } = (await (await running.api.get('/v1/parts')).json()) as { items: unknown[] };
    expect(parts.length).toBeGreaterThan(0);
  });

  test('opens again after its process was killed, and what was in hand and what waited are both worked', async () => {
    const { server, api } = running;
    const job = slowJob({ parts: 20, suppliers: 15, seed: 3 });
    expect((await loadJob(api, Job.parse(job))).refused).toEqual([]);
    const inHand = await ask(api, 3);
    const waiting = await ask(api, 0.1);
    await expect.poll(async () => (await stateOf(api, inHand)).state, { timeout: 20_000 }).toBe('running');
    server.kill('SIGKILL');
    expect(await server.ended).toBe('SIGKILL');
    running = await serve();
    for (const [task, attempts] of [[waiting, 1] as const, [inHand, 2] as const])
      await expect
        .poll(() => stateOf(running.api, task), { timeout: 40_000 })
        .toMatchObject({ state: 'done', attempts });
    running.server.kill('SIGTERM');
    expect(await running.server.ended).toBe(0);
  }, 120_000);
});
