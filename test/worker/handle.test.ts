import { sql } from 'drizzle-orm';
import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { claimTask } from '../../db/tasks.ts';
import { taskHandler, type HandleDeps } from '../../worker/tasks/handle.ts';
import type { Pool } from '../../worker/threads/pool.ts';
import type { Waking } from '../../worker/wake/wake.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, silent, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import {
  anHourAgo,
  askQuote,
  databaseNow,
  setTask,
  taskRow,
  timesRecorded,
  untilTask,
} from '../support/taskRows.ts';
import { ANSWERS, DEAF, poolOf } from '../support/threads.ts';

// A worker's handler with the engine's threads played by a few lines, so that each of their ends can be had.
let house: TestHouse;
let club: TestClub;
let member: Client;
let quote: string;
let task: string;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  member = await club.as('editor');
  await loadSmall(member);
});
beforeEach(async () => {
  ({ quote, task } = await askQuote(member, 'loom'));
});
afterAll(() => house.close());

function handlerOf(pool: Pool, more: Partial<HandleDeps> = {}) {
  return taskHandler({
    database: house.database,
    pool,
    wake: house.wake,
    log: silent,
    now: () => new Date(),
    newId: uuidv7,
    leaseMs: 5_000,
    letGo: new AbortController().signal,
    ...more,
  });
}

const row = () => taskRow(house.database, task);
const resultStatus = async () => (await member.get(`/v1/quotes/${quote}/result`)).status;
const spoken = () =>
  vi.waitFor(async () => expect((await row()).progress.message).toBe('deaf'), {
    timeout: 10_000,
    interval: 20,
  });

/** Waits for the flag, then answers all the same. */
const ANSWERS_LATE = `
  port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'deaf' } });
  Atomics.wait(new Int32Array(work.stop), 0, 0);
  ${ANSWERS}`;

describe('a task in hand', () => {
  test('is given to its thread as a job, with all that the club has, and done with what that answers', async () => {
    const echo = `port.postMessage({ says: 'done',
      worked: { job: JSON.stringify(work.job), jobHash: 'hash', result: '{}' } });`;
    expect(await handlerOf(poolOf(echo))(task)).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'done', attempts: 1 });
    expect((await member.get(`/v1/quotes/${quote}`)).json()).toMatchObject({ jobHash: 'hash' });
    const job = (await member.get(`/v1/quotes/${quote}/job`)).json();
    expect(job).toMatchObject({
      format: 'loomwright-job',
      club: { currency: 'GBP' },
      parts: [{ code: 'ring-6' }, { code: 'wire-red' }],
      request: { looms: [{ loom: 'loom', revision: 1, quantity: 1 }] },
    });
  });

  test('is left alone by a second waking, which comes back when the lease has ended', async () => {
    const first = handlerOf(poolOf(DEAF))(task);
    await spoken();
    const second = await handlerOf(poolOf(ANSWERS))(task);
    expect(second.outcome).toBe('later');
    expect(second).toHaveProperty(
      'inMs',
      expect.toSatisfy((ms: number) => ms > 0 && ms <= 5_050),
    );
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await first).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'cancelled', attempts: 1 });
  });

  test('is cancelled within a second by the database’s clock, though its thread hears nothing', async () => {
    const working = handlerOf(poolOf(DEAF))(task);
    await spoken();
    const asked = await databaseNow(house.database);
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await working).toEqual({ outcome: 'over' });
    const { state, finishedAt } = await row();
    expect(state).toBe('cancelled');
    // The promise.
    expect((finishedAt?.getTime() ?? Infinity) - asked.getTime()).toBeLessThan(1_000);
    expect(await resultStatus()).toBe(409);
  });

  test('is not begun where a cancel was asked while its last worker died', async () => {
    await claimTask(house.database, { id: task, token: uuidv7(), leaseMs: 60_000 });
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    await setTask(house.database, task, { leaseUntil: anHourAgo, attempts: 5 });
    expect(await handlerOf(poolOf(ANSWERS))(task)).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'cancelled', problem: null });
  });

  test('fails with engine-died when its thread ends, and is not tried again', async () => {
    expect(await handlerOf(poolOf('process.exit(0);'))(task)).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'failed', attempts: 1, problem: { code: 'engine-died' } });
    expect(await timesRecorded(house.database, 'task.failed', task)).toBe(1);
  });

  test('fails with engine-error when its thread says so, and tells nothing of the inside', async () => {
    await handlerOf(poolOf(`port.postMessage({ says: 'failed', name: 'Error', message: 'row 7' });`))(task);
    const { state, problem } = await row();
    expect({ state, code: problem?.code }).toEqual({ state: 'failed', code: 'engine-error' });
    expect(JSON.stringify(problem)).not.toContain('row 7');
  });

  test('fails with checks-stopped and the findings where these stop its quote, and is not tried again', async () => {
    const finding = {
      code: 'wire-without-length',
      severity: 'stop',
      at: '/looms/0/wires/0',
      where: 'loom loom, wire W1',
      found: 'no length',
      todo: 'State its length.',
    };
    const said = JSON.stringify({ says: 'stopped', findings: [finding], count: 7 });
    expect(await handlerOf(poolOf(`port.postMessage(${said});`))(task)).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'failed', attempts: 1, problem: { code: 'checks-stopped' } });
    const { problem } = (await member.get(`/v1/tasks/${task}`)).json<{
      problem: { detail: string; findings: unknown };
    }>();
    expect(problem.findings).toEqual([finding]);
    expect(problem.detail).toMatch(/^7 faults stop it.*The first 1 are listed here\..*stopsBlock/);
    expect(await resultStatus()).toBe(409);
  });

  test.each([
    ['tried a fifth time', 4, 'done', null],
    ['given up after five', 5, 'failed', { code: 'gave-up' }],
  ] as const)('whose workers died is %s', async (_what, attempts, state, problem) => {
    await setTask(house.database, task, { attempts });
    expect(await handlerOf(poolOf(ANSWERS))(task)).toEqual({ outcome: 'over' });
    const after = await row();
    expect(after.state).toBe(state);
    if (problem === null) expect(after.problem).toBeNull();
    else expect(after.problem).toMatchObject(problem);
  });

  test('that was taken over meanwhile stores nothing of what it answers too late', async () => {
    const working = handlerOf(poolOf(ANSWERS_LATE))(task);
    await spoken();
    // Between the two a beat may renew the lease: then it is moved back again.
    const token = await vi.waitFor(async () => {
      await setTask(house.database, task, { leaseUntil: anHourAgo });
      const claim = await claimTask(house.database, { id: task, token: uuidv7(), leaseMs: 60_000 });
      if (claim.outcome !== 'claimed') throw new Error('the lease was renewed meanwhile');
      return claim.token;
    });
    expect(await working).toEqual({ outcome: 'later', inMs: 5_000 });
    expect(await row()).toMatchObject({ state: 'running', attempts: 2, leaseToken: token });
    expect(await resultStatus()).toBe(409);
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(0);
  });

  test('is handed back when its worker has to go, and another is woken for it', async () => {
    const woken: Waking[] = [];
    const stop = new AbortController();
    const wake = { ...house.wake, wake: async (waking: Waking) => void woken.push(waking) };
    const working = handlerOf(poolOf(DEAF), { letGo: stop.signal, wake })(task);
    await spoken();
    stop.abort();
    expect(await working).toEqual({ outcome: 'over' });
    const { state, attempts, wakeNumber } = await row();
    expect({ state, attempts }).toEqual({ state: 'queued', attempts: 0 });
    expect(woken).toEqual([{ id: task, wakeNumber }]);
  });

  test('is handed back all the same where nobody can be woken', async () => {
    const stop = new AbortController();
    stop.abort();
    const wake = { ...house.wake, wake: () => Promise.reject(new Error('Redis is away')) };
    expect(await handlerOf(poolOf(ANSWERS), { letGo: stop.signal, wake })(task)).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'queued', attempts: 0 });
  });
});

testOnlyIn('service', 'the one connection of PGlite cannot be held by another')(
  'the lease is renewed while the job is loaded, however long that takes',
  async () => {
    let letLoad = () => {};
    const held = new Promise<void>((resolve) => (letLoad = resolve));
    let locked = () => {};
    const isLocked = new Promise<void>((resolve) => (locked = resolve));
    const holder = club.run(async (ctx) => {
      // The load waits here for the offers.
      await ctx.tx.execute(sql`lock table offers in access exclusive mode`);
      locked();
      await held;
    });
    await isLocked;
    const working = handlerOf(poolOf(ANSWERS), { leaseMs: 1_000 })(task);
    const { leaseUntil } = await untilTask(house.database, task, { state: 'running' });
    await vi.waitFor(
      async () =>
        expect((await row()).leaseUntil?.getTime()).toBeGreaterThan((leaseUntil?.getTime() ?? 0) + 1_000),
      { timeout: 10_000, interval: 50 },
    );
    letLoad();
    await holder;
    expect(await working).toEqual({ outcome: 'over' });
    expect(await row()).toMatchObject({ state: 'done', attempts: 1 });
  },
);
