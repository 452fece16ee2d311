import { afterAll, afterEach, beforeAll, describe, expect, test } from 'vitest';
import { eq } from 'drizzle-orm';
import { audit } from '../../db/schema/index.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { processes, type Started } from '../support/processes.ts';
import { slowJob } from '../support/slowJob.ts';
import { storeJob } from '../support/storeJob.ts';
import {
  askQuote,
  databaseNow,
  taskRow,
  timesRecorded,
  untilSolving,
  untilTask,
} from '../support/taskRows.ts';

// Workers are real processes, killed and stopped as an operator or the kernel would.
const started = processes();
let house: TestHouse;
let slow: TestClub;
let slowMember: Client;
let small: Client;

beforeAll(async () => {
  house = await openHouse();
  slow = await house.club();
  await storeJob(slow, slowJob());
  slowMember = await slow.as('member');
  small = await (await house.club()).as('editor');
  await loadSmall(small);
});
afterEach(() => started.endAll());
afterAll(() => house.close());

async function worker(env: Record<string, string> = {}): Promise<Started> {
  const process = started.node(['worker/main.ts'], { ...house.environment, ...env });
  await process.until(/"msg":"working"/);
  return process;
}

const cancel = (task: string) => slowMember.post(`/v1/tasks/${task}/cancel`, undefined);

describe('a worker that is killed', () => {
  test('loses nothing: its task is taken up by another within 10 s and completes once', async () => {
    const first = await worker();
    const { quote, task } = await askQuote(slowMember, 'slow', { solverSeconds: 8 });
    await untilSolving(house.database, task);
    const second = await worker();
    const killed = await databaseNow(house.database);
    first.kill('SIGKILL');
    expect(await first.ended).toBe('SIGKILL');
    await untilTask(house.database, task, { attempts: 2 });
    const taken = await databaseNow(house.database);
    // The design's promise; the lease is 5 s, the sweep every 2 s.
    expect(taken.getTime() - killed.getTime()).toBeLessThan(10_000);
    await untilTask(house.database, task, { state: 'done', attempts: 2 }, 40_000);
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
    expect((await slowMember.get(`/v1/quotes/${quote}/result`)).status).toBe(200);
    second.kill('SIGTERM');
    expect(await second.ended).toBe(0);
  }, 90_000);
});

describe('two workers', () => {
  test('share the load', async () => {
    const both = await Promise.all([worker(), worker()]);
    const asked = await Promise.all(Array.from({ length: 8 }, () => askQuote(small, 'loom')));
    for (const { task } of asked) {
      await untilTask(house.database, task, { state: 'done' });
      expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
    }
    for (const process of both) expect(process.printed()).toContain('"msg":"the task has ended"');
  });
});

describe('a worker that is told to stop', () => {
  test('finishes the task in hand when it is short, and ends with 0', async () => {
    const process = await worker({ LOOMWRIGHT_STOP_SECONDS: '30' });
    const { task } = await askQuote(slowMember, 'slow', { solverSeconds: 3 });
    await untilSolving(house.database, task);
    process.kill('SIGTERM');
    expect(await process.ended).toBe(0);
    expect(await taskRow(house.database, task)).toMatchObject({ state: 'done', attempts: 1 });
  });

  test('hands a long one back, which does not count as an attempt, and another takes it up', async () => {
    const process = await worker({ LOOMWRIGHT_STOP_SECONDS: '0' });
    const { task } = await askQuote(slowMember, 'slow');
    await untilSolving(house.database, task);
    process.kill('SIGTERM');
    expect(await process.ended).toBe(0);
    expect(await taskRow(house.database, task)).toMatchObject({ state: 'queued', attempts: 0 });
    await worker();
    await untilTask(house.database, task, { state: 'running', attempts: 1 });
    await cancel(task);
    await untilTask(house.database, task, { state: 'cancelled' });
  });
});

describe('an API process that is told to stop', () => {
  test('ends an open event stream and itself', async () => {
    const api = started.node(['api/main.ts'], { ...house.environment, PORT: '0' });
    const [, url = ''] = await api.until(/answers at (http:\S+) /);
    const { task } = await askQuote(slowMember, 'slow');
    const { secret } = (
      await (await slow.as('admin')).post('/v1/keys', { role: 'viewer', label: 'stream' })
    ).json<{ secret: string }>();
    const stream = await fetch(`${url}/v1/tasks/${task}/events`, {
      headers: { authorization: `Bearer ${secret}` },
    });
    const reader = stream.body?.getReader();
    await reader?.read();
    api.kill('SIGTERM');
    expect(await api.ended).toBe(0);
    await cancel(task);
  });
});

test('no task of these was recorded as done twice', async () => {
  const rows = await slow.run((ctx) =>
    ctx.tx.select({ subject: audit.subject }).from(audit).where(eq(audit.action, 'task.done')),
  );
  expect(new Set(rows.map((row) => row.subject)).size).toBe(rows.length);
});
