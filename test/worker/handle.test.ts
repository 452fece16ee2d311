import { sql } from 'drizzle-orm';
import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { claimNext } from '../../db/turns.ts';
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
  endOpenTasks,
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
  await endOpenTasks(house.database);
  ({ quote, task } = await askQuote(member, 'loom'));
});
afterAll(() => house.close());

function handlerOf(pool: Pool, more: Partial<HandleDeps> = {}, hands = 1) {
  const deps = {
    database: house.database,
    pool,
    wake: house.wake,
    log: silent,
    now: () => new Date(),
    newId: uuidv7,
    leaseMs: 5_000,
    letGo: new AbortController().signal,
    ...more,
  };
  return taskHandler(deps, hands);
}

const row = () => taskRow(house.database, task);
const resultStatus = async () => (await member.get(`/v1/quotes/${quote}/result`)).status;
const spoken = () =>
  vi.waitFor(async () => expect((await row()).progress.message).toBe('deaf'), {
    timeout: 10_000,
    interval: 20,
  });

/** Keeps more and more until it may not. */
const NEEDS_MEMORY = `const kept = []; for (;;) kept.push(new Array(1000).fill(kept.length));`;

/** Speaks, and ends by itself when it is told to go on by nobody: a second later. */
const UNTIL_DEAD = `
  port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'dying soon' } });
  setTimeout(() => process.exit(0), 1000);`;

/** Waits for the flag, then answers all the same. */
const ANSWERS_LATE = `
  port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'deaf' } });
  Atomics.wait(new Int32Array(work.stop), 0, 0);
  ${ANSWERS}`;

describe('a task in hand', () => {
  test('is given to its thread as a job, with all that the club has, and done with what that answers', async () => {
    const echo = `port.postMessage({ says: 'done',
      worked: { job: JSON.stringify(work.job), jobHash: 'hash', result: '{}' } });`;
    expect(await handlerOf(poolOf(echo))()).toBe('worked');
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

  test('is left alone by a second worker, which finds nothing to do', async () => {
    const first = handlerOf(poolOf(DEAF))();
    await spoken();
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('nothing');
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await first).toBe('worked');
    expect(await row()).toMatchObject({ state: 'cancelled', attempts: 1 });
  });

  test('is cancelled within a second by the database’s clock, though its thread hears nothing', async () => {
    const working = handlerOf(poolOf(DEAF))();
    await spoken();
    const asked = await databaseNow(house.database);
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await working).toBe('worked');
    const { state, finishedAt } = await row();
    expect(state).toBe('cancelled');
    // The promise.
    expect((finishedAt?.getTime() ?? Infinity) - asked.getTime()).toBeLessThan(1_000);
    expect(await resultStatus()).toBe(409);
  });

  test('is not begun where a cancel was asked while its last worker died', async () => {
    await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    await setTask(house.database, task, { leaseUntil: anHourAgo, lost: 40 });
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'cancelled', problem: null });
  });

  test('whose thread ends by itself is tried once more, and then fails as ended by itself', async () => {
    const handle = handlerOf(poolOf('process.exit(0);'));
    expect(await handle()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'queued', attempts: 1, crashed: 1, alone: true });
    expect(await handle()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'failed', attempts: 2, problem: { code: 'engine-died' } });
    expect((await row()).problem?.detail).not.toMatch(/memory|smaller/);
    expect(await timesRecorded(house.database, 'task.failed', task)).toBe(1);
  });

  // Node 24 ends the whole process here, as each release does where one list alone outgrows the limit: such a death counts
  // like any other of a process.
  const endsProcess = Number(process.versions.node.split('.')[0]) >= 24;
  test.skipIf(endsProcess)(
    'that needs more memory than a thread may have fails with that, twice tried, and its worker lives on',
    async () => {
      const handle = handlerOf(poolOf(NEEDS_MEMORY, 1, 64));
      expect(await handle()).toBe('worked');
      expect(await handle()).toBe('worked');
      const { state, problem } = await row();
      expect({ state, code: problem?.code }).toEqual({ state: 'failed', code: 'engine-died' });
      expect(problem?.detail).toMatch(/more than the 64 MB of memory.*LOOMWRIGHT_THREAD_MB.*2 times/);
      ({ task } = await askQuote(member, 'loom'));
      expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
      expect(await row()).toMatchObject({ state: 'done' });
    },
  );

  test('beside others does not answer for its thread’s end: it is tried again alone', async () => {
    const { task: other } = await askQuote(member, 'loom');
    const handle = handlerOf(poolOf(UNTIL_DEAD, 2), {}, 2);
    const both = [handle(), handle()];
    await vi.waitFor(
      async () => {
        for (const id of [task, other])
          expect((await taskRow(house.database, id)).progress.message).toBe('dying soon');
      },
      { timeout: 10_000, interval: 20 },
    );
    await Promise.all(both);
    for (const id of [task, other])
      expect(await taskRow(house.database, id)).toMatchObject({ state: 'queued', crashed: 0, alone: true });
    // The next is worked alone: a second hand finds it taken and takes nothing beside it.
    const alone = handlerOf(poolOf(DEAF, 2), {}, 2);
    const working = alone();
    await spoken();
    expect(await alone()).toBe('busy');
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await working).toBe('worked');
  });

  test('fails with engine-error when its thread says so, and tells nothing of the inside', async () => {
    await handlerOf(poolOf(`port.postMessage({ says: 'failed', name: 'Error', message: 'row 7' });`))();
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
    expect(await handlerOf(poolOf(`port.postMessage(${said});`))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'failed', attempts: 1, problem: { code: 'checks-stopped' } });
    const { problem } = (await member.get(`/v1/tasks/${task}`)).json<{
      problem: { detail: string; findings: unknown };
    }>();
    expect(problem.findings).toEqual([finding]);
    expect(problem.detail).toMatch(/^7 faults stop it.*The first 1 are listed here\..*stopsBlock/);
    expect(await resultStatus()).toBe(409);
  });

  test('whose worker was lost ten times is worked all the same, and done', async () => {
    for (let lost = 0; lost < 10; lost++) {
      await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
      await setTask(house.database, task, { leaseUntil: anHourAgo });
    }
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done', lost: 10, problem: null });
  });

  test('whose worker was lost over and over, alone at last, is given up, and the text blames nothing', async () => {
    await setTask(house.database, task, { lost: 30, alone: true });
    await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
    await setTask(house.database, task, { leaseUntil: anHourAgo });
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
    const { state, lost, problem } = await row();
    expect({ state, lost, code: problem?.code }).toEqual({ state: 'failed', lost: 31, code: 'gave-up' });
    expect(problem?.detail).toContain('The reason is not known');
    expect(problem?.detail).not.toContain('smaller');
  });

  test('that was taken over meanwhile stores nothing of what it answers too late', async () => {
    const working = handlerOf(poolOf(ANSWERS_LATE))();
    await spoken();
    // Between the two a beat may renew the lease: then it is moved back again.
    const token = await vi.waitFor(async () => {
      await setTask(house.database, task, { leaseUntil: anHourAgo });
      const claim = await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
      if (claim.outcome !== 'claimed') throw new Error('the lease was renewed meanwhile');
      return claim.token;
    });
    expect(await working).toBe('trouble');
    expect(await row()).toMatchObject({ state: 'running', attempts: 2, leaseToken: token });
    expect(await resultStatus()).toBe(409);
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(0);
  });

  test('is handed back when its worker has to go, and another is woken for it', async () => {
    const woken: Waking[] = [];
    const stop = new AbortController();
    const wake = { ...house.wake, wake: async (waking: Waking) => void woken.push(waking) };
    const working = handlerOf(poolOf(DEAF), { letGo: stop.signal, wake })();
    await spoken();
    stop.abort();
    expect(await working).toBe('worked');
    const { state, attempts, wakeNumber } = await row();
    expect({ state, attempts }).toEqual({ state: 'queued', attempts: 0 });
    expect(woken).toEqual([{ id: task, wakeNumber }]);
  });

  test('is handed back all the same where nobody can be woken', async () => {
    const stop = new AbortController();
    stop.abort();
    const wake = { ...house.wake, wake: () => Promise.reject(new Error('Redis is away')) };
    expect(await handlerOf(poolOf(ANSWERS), { letGo: stop.signal, wake })()).toBe('worked');
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
    const working = handlerOf(poolOf(ANSWERS), { leaseMs: 1_000 })();
    const { leaseUntil } = await untilTask(house.database, task, { state: 'running' });
    await vi.waitFor(
      async () =>
        expect((await row()).leaseUntil?.getTime()).toBeGreaterThan((leaseUntil?.getTime() ?? 0) + 1_000),
      { timeout: 10_000, interval: 50 },
    );
    letLoad();
    await holder;
    expect(await working).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done', attempts: 1 });
  },
);
