import { inArray, sql } from 'drizzle-orm';
import { setTimeout as pause } from 'node:timers/promises';
import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { tasks } from '../../db/schema/index.ts';
import { asSystem } from '../../db/system.ts';
import { readTasks } from '../../db/tasks.ts';
import type { Client } from '../support/client.ts';
import { figure } from '../support/figures.ts';
import { loadSmall } from '../support/fixtures.ts';
import { workerOf } from '../support/fleet.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { LONG } from '../support/long.ts';
import { processes, type Started } from '../support/processes.ts';
import { randomBelow } from '../support/randomBelow.ts';
import { slowJob } from '../support/slowJob.ts';
import { storeJob } from '../support/storeJob.ts';
import {
  askQuote,
  databaseNow,
  endOpenTasks,
  taskRow,
  timesRecorded,
  untilSolving,
  untilTask,
} from '../support/taskRows.ts';

// Two workers are real processes; one of them is killed over and over while both work.
const started = processes();
let house: TestHouse;
let small: Client;
let slow: TestClub;
let slowMember: Client;

const KILLS = LONG ? 200 : 30;
/** Wide of the lease's end, and of the turn of another worker, on a machine that does other things as well. */
const DONE_MS = LONG ? 900_000 : 120_000;

beforeAll(async () => {
  house = await openHouse();
  small = await (await house.club()).as('editor');
  await loadSmall(small);
  slow = await house.club();
  await storeJob(slow, slowJob());
  slowMember = await slow.as('member');
});
afterEach(async () => {
  await started.endAll();
  await endOpenTasks(house.database);
});
afterAll(() => house.close());

const worker = (env: Record<string, string> = {}) => workerOf(started, house, env);

/** Starts a worker without waiting for it: it may be killed before it has said a word. */
const anyWorker = () =>
  started.node(['worker/main.ts'], { ...house.environment, LOOMWRIGHT_LEASE_SECONDS: '1' });

async function kill(process: Started): Promise<void> {
  process.kill('SIGKILL');
  expect(await process.ended).toBe('SIGKILL');
}

/** Whether some task of these is in hand now. */
async function inHand(ids: string[]): Promise<boolean> {
  return (await readTasks(house.database, ids)).some(({ state }) => state === 'running');
}

describe('one of two workers', () => {
  test(`killed ${KILLS} times: nothing is lost, everything is done once, no task fails`, async () => {
    const steady = await worker({ LOOMWRIGHT_LEASE_SECONDS: '1' });
    const random = randomBelow(30_200);
    const asked: string[] = [];
    let killed = 0;
    while (killed < KILLS) {
      // Two of the kill and one for the other: there is always something to be in the middle of.
      for (let n = 0; n < 3; n++)
        asked.push((await askQuote(slowMember, 'slow', { solverSeconds: 0.3 })).task);
      const victims = [anyWorker(), anyWorker()].slice(0, Math.min(2, KILLS - killed));
      await Promise.all(
        victims.map(async (victim, index) => {
          // One in the middle of a task, the other at its start or wherever it is by then.
          if (index === 0) await victim.until(/"msg":"a task is worked"/, 60_000);
          await pause(random(400));
          await kill(victim);
        }),
      );
      killed += victims.length;
    }
    await vi.waitFor(async () => expect(await openOf(asked)).toBe(0), { timeout: DONE_MS, interval: 250 });
    const rows = await readTasks(house.database, asked);
    expect(rows.filter(({ state }) => state !== 'done')).toEqual([]);
    for (const id of asked) expect(await timesRecorded(house.database, 'task.done', id)).toBe(1);
    steady.kill('SIGTERM');
    expect(await steady.ended).toBe(0);
    const lost = rows.reduce((sum, row) => sum + row.lost, 0);
    // The kills hit workers that had a task in hand.
    expect(lost).toBeGreaterThan(KILLS / 4);
    figure('kills of one of two workers', killed, 'kills');
    figure('quotes asked for meanwhile, each done once', asked.length, 'quotes');
    figure('times that a task was lost with its worker', lost, 'times');
  }, 1_200_000);
});

function openOf(ids: string[]): Promise<number> {
  return asSystem(house.database, async (tx) => {
    const open = await tx
      .select({ id: tasks.id })
      .from(tasks)
      .where(sql`${inArray(tasks.id, ids)} and ${inArray(tasks.state, ['queued', 'running'])}`);
    return open.length;
  });
}

describe('a worker that is killed with 200 tasks waiting', () => {
  test('has its task taken up by the first that is free, before all that wait', async () => {
    const first = await worker();
    const { task } = await askQuote(slowMember, 'slow', { solverSeconds: 300 });
    await untilSolving(house.database, task);
    const waiting: string[] = [];
    for (let n = 0; n < 200; n++) waiting.push((await askQuote(small, 'loom')).task);
    const second = await worker();
    await vi.waitFor(async () => expect(await inHand(waiting)).toBe(true), { timeout: 30_000, interval: 10 });
    const killed = await databaseNow(house.database);
    await kill(first);
    const { leaseUntil } = await taskRow(house.database, task);
    await untilTask(house.database, task, { state: 'running', lost: 1 }, 60_000);
    const taken = await databaseNow(house.database);
    figure(
      'from the kill of a worker to the take-up of its task, 200 others waiting',
      (taken.getTime() - killed.getTime()) / 1000,
      's',
    );
    // What was lost goes before all that wait: none of these was begun once the lease had run out.
    const rows = await readTasks(house.database, waiting);
    const before = rows.filter(
      ({ startedAt }) => startedAt !== null && leaseUntil !== null && startedAt > leaseUntil,
    );
    expect(before).toEqual([]);
    expect(rows.some(({ state }) => state === 'queued')).toBe(true);
    await kill(second);
  }, 120_000);
});

describe('a worker that freezes for longer than its lease', () => {
  test('stores nothing over the result of the worker that took its task up', async () => {
    const frozen = await worker({ LOOMWRIGHT_LEASE_SECONDS: '1' });
    const { quote, task } = await askQuote(slowMember, 'slow', { solverSeconds: 2, besideSeconds: 0 });
    await untilSolving(house.database, task);
    frozen.kill('SIGSTOP');
    const other = await worker({ LOOMWRIGHT_LEASE_SECONDS: '1' });
    const done = await untilTask(house.database, task, { state: 'done', lost: 1 }, 60_000);
    const result = (await slowMember.get(`/v1/quotes/${quote}/result`)).text;
    frozen.kill('SIGCONT');
    await frozen.until(/the lease was lost; another worker has the task/, 60_000);
    expect(await taskRow(house.database, task)).toEqual(done);
    expect((await slowMember.get(`/v1/quotes/${quote}/result`)).text).toBe(result);
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
    // It works on, as one that was never away.
    await kill(other);
    await untilTask(house.database, (await askQuote(small, 'loom')).task, { state: 'done' });
  }, 120_000);
});

describe('the quote of one club', () => {
  test('waits for one quote of another at most, however many that has waiting', async () => {
    const { task: first } = await askQuote(small, 'loom');
    const many: string[] = [first];
    for (let n = 1; n < 100; n++) many.push((await askQuote(small, 'loom')).task);
    await worker();
    await untilTask(house.database, first, { state: 'done' });
    const asked = await databaseNow(house.database);
    const { task } = await askQuote(slowMember, 'slow', { solverSeconds: 0.1, besideSeconds: 0 });
    const { startedAt } = await untilTask(house.database, task, { state: 'done' }, 60_000);
    // Of the other club, only what was in hand, and what was being claimed at the moment of asking, came before it.
    const between = (await readTasks(house.database, many)).filter(
      (other) =>
        other.startedAt !== null &&
        startedAt !== null &&
        other.startedAt > asked &&
        other.startedAt < startedAt,
    );
    figure('quotes of another club begun before the quote of a club, 100 waiting', between.length, 'quotes');
    expect(between.length).toBeLessThanOrEqual(1);
  }, 120_000);
});
