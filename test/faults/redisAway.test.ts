import { Redis } from 'ioredis';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { callerOf, type Caller } from '../../api/client.ts';
import { loadJob } from '../../api/load/loadJob.ts';
import { exampleJob } from '../support/fixtures.ts';
import { gateBefore, type Gate } from '../support/gate.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { processes, type Started } from '../support/processes.ts';
import { privateRedis } from '../support/servers.ts';
import { untilTask } from '../support/taskRows.ts';

// Real processes that reach Redis through a gate: shut, it refuses as a server that is not running.
const started = processes();
let redis: Awaited<ReturnType<typeof privateRedis>>;
let gate: Gate;
let house: TestHouse;
let api: Started;
let worker: Started;
let url: string;
let caller: Caller;

const loom = 'horn-lead';

beforeAll(async () => {
  redis = await privateRedis();
  gate = await gateBefore(redis.url);
  house = await openHouse({ redisUrl: gate.url });
  api = started.node(['api/main.ts'], { ...house.environment, PORT: '0' });
  worker = started.node(['worker/main.ts'], house.environment);
  url = (await api.until(/answers at (http:\S+) /))[1] ?? '';
  await worker.until(/"msg":"working"/);
  const key = started.node(['api/key.ts', '--club', 'Ours', '--role', 'admin', '--new'], house.environment);
  const [secret] = await key.until(/lw_[\w-]{43}/);
  caller = callerOf(url, secret);
  expect((await loadJob(caller, Job.parse(exampleJob('three-wires')))).refused).toEqual([]);
});
afterAll(async () => {
  await started.endAll();
  await house.close();
  await gate.close();
  await redis.stop();
});

async function ask(): Promise<string> {
  const asked = await caller.send('POST', '/v1/quotes', { looms: [{ loom, quantity: 1 }] });
  expect(asked.status).toBe(202);
  return ((await asked.json()) as { task: string }).task.split('/').at(-1) ?? '';
}

function untilReady(status: number): Promise<void> {
  return vi.waitFor(async () => expect((await fetch(`${url}/readyz`)).status).toBe(status), {
    timeout: 20_000,
    interval: 50,
  });
}

const done = (task: string) => untilTask(house.database, task, { state: 'done', attempts: 1 });

describe('Redis', () => {
  let missed: string;

  test('may be away when the API and the worker start: quotes are taken in, and the API is not ready', async () => {
    await untilReady(503);
    expect((await fetch(`${url}/healthz`)).status).toBe(200);
    missed = await ask();
  });

  test('is used when it comes, by processes that had to start without it', async () => {
    await gate.set('open');
    await untilReady(200);
    await done(await ask());
  });

  test('was away for a waking: the worker finds the task by itself', async () => {
    await done(missed);
  });

  test('may end and come back empty: what was asked meanwhile and what is asked then are both worked', async () => {
    await gate.set('shut');
    await untilReady(503);
    const meanwhile = await ask();
    const admin = new Redis(redis.url);
    await admin.flushall();
    await admin.script('FLUSH');
    admin.disconnect();
    await gate.set('open');
    await untilReady(200);
    await done(await ask());
    await done(meanwhile);
  });

  test('may hold its connections and say nothing: quotes are taken in all the same', async () => {
    await gate.set('mute');
    const task = await ask();
    await untilReady(503);
    // Its connections would never notice; they are dropped as a network does in the end.
    await gate.set('shut');
    await gate.set('open');
    await untilReady(200);
    await done(task);
  });

  test('is not waited for by processes that are told to stop', async () => {
    await gate.set('shut');
    await untilReady(503);
    for (const process of [api, worker]) process.kill('SIGTERM');
    expect(await Promise.all([api.ended, worker.ended])).toEqual([0, 0]);
  });
});
