import { request } from 'node:http';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { callerOf, type Caller } from '../../api/client.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { exampleJob } from '../support/fixtures.ts';
import { gateBefore, type Gate } from '../support/gate.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { processes, type Started } from '../support/processes.ts';
import { untilTask } from '../support/taskRows.ts';

// An API and a worker as processes of their own, with their metrics, as whoever runs them sees them.
const started = processes();
let house: TestHouse;
let gate: Gate;
let api: Started;
let worker: Started;
let url: string;
let secret: string;
let caller: Caller;
const metrics: Record<'api' | 'worker', string> = { api: '', worker: '' };

beforeAll(async () => {
  house = await openHouse();
  gate = await gateBefore(house.environment['REDIS_URL'] ?? '');
  await gate.set('open');
  const environment = { ...house.environment, REDIS_URL: gate.url, LOOMWRIGHT_METRICS_PORT: '0' };
  api = started.node(['api/main.ts'], { ...environment, PORT: '0' });
  worker = started.node(['worker/main.ts'], environment);
  const served = /"url":"(http:\S+)\/metrics"/;
  [, metrics.api = ''] = await api.until(served);
  [, metrics.worker = ''] = await worker.until(served);
  [, url = ''] = await api.until(/answers at (http:\S+) /);
  const key = started.node(['api/key.ts', '--club', 'Ours', '--role', 'admin', '--new'], house.environment);
  [secret] = await key.until(/lw_[\w-]{43}/);
  caller = callerOf(url, secret);
  expect((await loadJob(caller, Job.parse(exampleJob('three-wires')))).refused).toEqual([]);
}, 120_000);
afterAll(async () => {
  await started.endAll();
  await house.close();
  await gate.close();
});

type Line = Record<string, unknown>;
const lines = (process: Started): Line[] =>
  process
    .printed()
    .split('\n')
    .flatMap((line) => (line.startsWith('{') ? [JSON.parse(line) as Line] : []));

async function ask(requestId: string): Promise<{ task: string; result: string }> {
  const body = { looms: [{ loom: 'horn-lead', quantity: 1 }] };
  const asked = await caller.send('POST', '/v1/quotes', body, { 'x-request-id': requestId });
  const { task, result } = (await asked.json()) as { task: string; result: string };
  return { task: task.split('/').at(-1) ?? '', result };
}

/** The value of a series, by its name with its labels in whatever order. */
async function series(of: 'api' | 'worker', name: string, labels: Record<string, string> = {}) {
  const text = await (await fetch(`${metrics[of]}/metrics`)).text();
  const line = text
    .split('\n')
    .filter((each) => each.startsWith(`${name} `) || each.startsWith(`${name}{`))
    .find((each) => Object.entries(labels).every(([label, value]) => each.includes(`${label}="${value}"`)));
  return line === undefined ? undefined : Number(line.split(' ').at(-1));
}

describe('a request', () => {
  test('is followed from the API to the worker by its id, with club, key and task, and no secret is in a line', async () => {
    const { task } = await ask('follow-me');
    await untilTask(house.database, task, { state: 'done' });
    await worker.until(/"msg":"the task has ended"/);
    const ofApi = lines(api).filter((line) => line['requestId'] === 'follow-me');
    const answered = ofApi.find((line) => line['status'] === 202);
    expect(answered?.['path']).toBe('/v1/quotes');
    expect(answered?.['actor']).toMatch(/^key:[0-9a-f-]{36}$/);
    const { club, actor } = answered ?? {};
    expect(ofApi).toContainEqual(expect.objectContaining({ task, club, actor }));
    const ended = lines(worker).find((line) => line['msg'] === 'the task has ended');
    expect(ended).toMatchObject({ requestId: 'follow-me', task, club, actor, state: 'done' });
    expect(api.printed() + worker.printed()).not.toMatch(/lw_[\w-]{43}/);
  });

  test('that fails has its kind and the name of its occurrence in its line', async () => {
    const got = await fetch(`${url}/v1/parts/nothing`, { headers: { authorization: `Bearer ${secret}` } });
    const { instance, requestId } = (await got.json()) as { instance: string; requestId: string };
    // The line is written once the answer is on its way.
    await vi.waitFor(() =>
      expect(lines(api).find((line) => line['requestId'] === requestId)).toMatchObject({
        problem: 'not-found',
        instance: instance.replace('urn:uuid:', ''),
      }),
    );
  });
});

describe('metrics', () => {
  test('count requests by the template of their path, and tasks by kind and outcome', async () => {
    const posted = { route: '/v1/quotes', method: 'POST', status: '2xx' };
    const before = (await series('api', 'loomwright_http_request_seconds_count', posted)) ?? 0;
    const { task } = await ask('counted');
    await untilTask(house.database, task, { state: 'done' });
    expect(await series('api', 'loomwright_http_request_seconds_count', posted)).toBe(before + 1);
    const done = { kind: 'quote', outcome: 'done' };
    await vi.waitFor(async () =>
      expect(await series('worker', 'loomwright_task_seconds_count', done)).toBe(before + 1),
    );
    expect(await series('worker', 'loomwright_thread_seconds_count', { kind: 'price' })).toBe(before + 1);
    expect(await series('worker', 'loomwright_threads', { pool: 'tasks', state: 'idle' })).toBe(1);
    for (const each of ['api', 'worker'] as const) {
      expect(await series(each, 'process_resident_memory_bytes')).toBeGreaterThan(1e7);
      expect(await series(each, 'nodejs_eventloop_lag_p99_seconds')).toBeGreaterThan(0);
      expect(await series(each, 'loomwright_up', { part: 'database' })).toBe(1);
    }
  });

  test('have no label whose values a club or a caller chooses', async () => {
    const headers = { authorization: `Bearer ${secret}` };
    await fetch(`${url}/v1/parts/no-such-part`, { headers });
    await fetch(`${url}/v1/no-such-path`, { headers, method: 'PROPFIND' });
    const text = await (await fetch(`${metrics.api}/metrics`)).text();
    expect(text).not.toMatch(/no-such|PROPFIND|horn-lead|[0-9a-f]{8}-[0-9a-f]{4}-/);
    expect(text).toMatch(/route="none",method="other",status="4xx"/);
    expect(text).toMatch(/route="\/v1\/parts\/\{code\}",method="GET",status="4xx"/);
  });

  test('are nothing for the world: the port of the API does not have them', async () => {
    expect((await fetch(`${url}/metrics`)).status).toBe(404);
  });
});

describe('over the wire', () => {
  const headers = () => ({ authorization: `Bearer ${secret}` });

  test('HEAD has the Content-Length of GET and no body (RFC 9110 §9.3.2)', async () => {
    const length = (method: string) =>
      new Promise<[unknown, number]>((resolve, reject) => {
        const { hostname, port } = new URL(url);
        const sent = request({ hostname, port, method, path: '/v1/offers', headers: headers() }, (got) => {
          let bytes = 0;
          got.on('data', (chunk: Buffer) => (bytes += chunk.byteLength));
          got.on('end', () => resolve([got.headers['content-length'], bytes]));
        });
        sent.on('error', reject).end();
      });
    const [, bytes] = await length('GET');
    expect(bytes).toBeGreaterThan(100);
    expect(await length('HEAD')).toEqual([String(bytes), 0]);
  });

  test('OPTIONS is answered, and a packed text is unpacked to the same by any client', async () => {
    const options = await fetch(`${url}/v1/quotes/x/result`, { method: 'OPTIONS' });
    expect([options.status, options.headers.get('allow')]).toEqual([204, 'GET, HEAD, OPTIONS']);
    const packed = await fetch(`${url}/v1/offers`, { headers: headers() });
    const plain = await fetch(`${url}/v1/offers`, {
      headers: { ...headers(), 'accept-encoding': 'identity' },
    });
    expect([packed, plain].map((got) => got.headers.get('content-encoding'))).toEqual(['gzip', null]);
    expect(await packed.text()).toBe(await plain.text());
    const again = { ...headers(), 'if-none-match': packed.headers.get('etag') ?? '' };
    expect((await fetch(`${url}/v1/offers`, { headers: again })).status).toBe(304);
  });
});

describe('readiness', () => {
  test('names the part that is missing, of the API and of the worker', async () => {
    await gate.set('shut');
    await vi.waitFor(
      async () => {
        const got = await fetch(`${url}/readyz`);
        expect(got.status).toBe(503);
        expect(((await got.json()) as { detail: string }).detail).toBe('The queue does not answer.');
        const ofWorker = await fetch(`${metrics.worker}/readyz`);
        expect([ofWorker.status, await ofWorker.json()]).toEqual([
          503,
          { status: 'not ready', missing: ['queue'] },
        ]);
      },
      { timeout: 20_000, interval: 100 },
    );
    expect((await fetch(`${metrics.worker}/healthz`)).status).toBe(200);
    await gate.set('open');
    await vi.waitFor(async () => expect((await fetch(`${metrics.worker}/readyz`)).status).toBe(200), {
      timeout: 20_000,
      interval: 100,
    });
  });

  test('is beside what waits: without a worker, tasks and their age are told', async () => {
    worker.kill('SIGTERM');
    expect(await worker.ended).toBe(0);
    await ask('waits');
    expect(await series('api', 'loomwright_tasks_waiting')).toBe(1);
    await vi.waitFor(async () =>
      expect(await series('api', 'loomwright_oldest_waiting_task_seconds')).toBeGreaterThan(0),
    );
  });
});
