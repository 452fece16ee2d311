import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { MOST_FINDINGS } from '../../worker/engine/model/mostFindings.ts';
import { askedMeanwhile, sendBytes } from '../support/askedMeanwhile.ts';
import { figure } from '../support/figures.ts';
import { hostileBodies } from '../support/hostileBodies.ts';
import { LONG } from '../support/long.ts';
import { processes } from '../support/processes.ts';

// A real server, as anybody with a key may trouble it.
const started = processes();
const folder = mkdtempSync(join(tmpdir(), 'loomwright-hostile-'));
let url: string;
let key: string;

const MIB = 1024 ** 2;
const send = (path: string, type: string, bytes: Buffer, method = 'POST') =>
  sendBytes(`${url}${path}`, {
    method,
    headers: { authorization: `Bearer ${key}`, 'content-type': type },
    bytes,
  });

beforeAll(async () => {
  const server = started.node(['api/main.ts'], { LOOMWRIGHT_DATA: folder, PORT: '0', LOG_LEVEL: 'error' });
  url = (await server.until(/answers at (http:\S+) \(embedded\)/))[1] ?? '';
  key = readFileSync(join(folder, 'admin-key'), 'utf8').trim();
  const loom = { code: 'there', name: 'There', points: [{ id: 'A', kind: 'stud' }] };
  expect((await send('/v1/looms', 'application/json', Buffer.from(JSON.stringify(loom)))).status).toBe(201);
});
afterAll(async () => {
  await started.endAll();
  rmSync(folder, { recursive: true, force: true });
});

const bodies = hostileBodies(LONG ? 15 * MIB : 1 * MIB).map((body) => [body.name, body] as const);
let slowest = 0;
afterAll(() => figure('longest wait for healthz while hostile bodies were read', Math.round(slowest), 'ms'));

test.each(bodies)(
  'a hostile body is answered with little, and others are served meanwhile: %s',
  async (_name, { path, type, method, bytes }) => {
    const { done, slowestMs, asked } = await askedMeanwhile(url, () => send(path, type, bytes, method));
    slowest = Math.max(slowest, slowestMs);
    expect(asked).toBeGreaterThan(0);
    expect(done.bytes).toBeLessThan(200_000);
    // A table is taken as far as it can be read: its answer says how far.
    if (type === 'text/csv' && done.status === 200) return;
    expect([400, 413, 422]).toContain(done.status);
    expect(done.type).toBe('application/problem+json');
    const { findings = [] } = JSON.parse(done.text) as { findings?: unknown[] };
    expect(findings.length).toBeLessThanOrEqual(MOST_FINDINGS + 1);
  },
  LONG ? 300_000 : 60_000,
);
