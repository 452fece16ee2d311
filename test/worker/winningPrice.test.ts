import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { taskHandler } from '../../worker/tasks/handle.ts';
import type { Pool } from '../../worker/threads/pool.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, silent, type TestClub, type TestHouse } from '../support/house.ts';
import { askQuote, endOpenTasks, taskRow, timesRecorded } from '../support/taskRows.ts';
import { DEAF, poolOf } from '../support/threads.ts';

// A winning price through a worker's handler, with the engine's threads played by a few lines.
let house: TestHouse;
let club: TestClub;
let member: Client;
let path: string;
let task: string;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  member = await club.as('editor');
  await loadSmall(member);
});
afterAll(() => house.close());

const handlerOf = (pool: Pool) =>
  taskHandler({
    database: house.database,
    pool,
    wake: house.wake,
    log: silent,
    now: () => new Date(),
    newId: uuidv7,
    leaseMs: 5_000,
    letGo: new AbortController().signal,
  });

const ECHO = `port.postMessage({ says: 'done',
  worked: { job: JSON.stringify(work.job), jobHash: 'hash', result: '{}' } });`;

beforeEach(async () => {
  await endOpenTasks(house.database);
  const asked = await askQuote(member, 'loom');
  await handlerOf(poolOf(ECHO))();
  path = `/v1/quotes/${asked.quote}/winning-prices`;
  task = await ask();
});

async function ask(): Promise<string> {
  const got = await member.post(path, { offer: 'ring-pack' });
  expect(got.status).toBe(202);
  return got.json<{ task: string }>().task.split('/').at(-1) ?? '';
}

const stateOf = async () => (await member.get(`${path}/ring-pack`)).json()['state'];

/** An answer as the engine gives it, of an offer that never wins. */
const ANSWERED = `port.postMessage({ says: 'answered', answer: JSON.stringify({
  format: 'loomwright-winning-price', version: 1, jobHash: work.kind, asOf: work.job.asOf, offer: work.offer,
  supplier: 'shop', form: 'pack', stated: { first: { amount: '2.00', currency: 'GBP' }, breaks: [] }, outcome: 'never',
  without: { total: { amount: '1.00', currency: 'GBP' }, cost: { amount: '1.00', currency: 'GBP' }, unsourced: 0 },
  proof: { status: 'proven', elsewhere: 'settled', solved: 3 } }) });`;

describe('the task of a winning price', () => {
  test('is given to its thread with the offer and the job of its quote, and stores what that answers', async () => {
    expect(await handlerOf(poolOf(ANSWERED))()).toBe('worked');
    expect(await taskRow(house.database, task)).toMatchObject({
      state: 'done',
      attempts: 1,
      kind: 'winningPrice',
    });
    expect((await member.get(`${path}/ring-pack`)).json()).toMatchObject({
      state: 'done',
      answer: { jobHash: 'winningPrice', offer: 'ring-pack', outcome: 'never' },
    });
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
  });

  test('ends cancelled though its thread hears nothing, without an answer, and may be asked for again', async () => {
    const working = handlerOf(poolOf(DEAF))();
    await vi.waitFor(
      async () => expect((await taskRow(house.database, task)).progress.message).toBe('deaf'),
      { timeout: 10_000, interval: 20 },
    );
    expect((await member.post(`/v1/tasks/${task}/cancel`, undefined)).status).toBe(202);
    expect(await working).toBe('worked');
    expect(await stateOf()).toBe('cancelled');
    expect((await member.get(`${path}/ring-pack`)).json()).not.toHaveProperty('answer');
    expect(await ask()).not.toBe(task);
    await handlerOf(poolOf(ANSWERED))();
    expect(await stateOf()).toBe('done');
  });

  test('that waits is cancelled at once', async () => {
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await stateOf()).toBe('cancelled');
  });

  test('while it waits or is worked is not begun a second time by asking again', async () => {
    expect(await ask()).toBe(task);
    const working = handlerOf(poolOf(DEAF))();
    await vi.waitFor(async () => expect(await stateOf()).toBe('running'), { timeout: 10_000, interval: 20 });
    expect(await ask()).toBe(task);
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    await working;
  });

  test('whose thread ended has failed, and may be asked for again', async () => {
    for (let tried = 0; tried < 2; tried++)
      expect(await handlerOf(poolOf('process.exit(0);'))()).toBe('worked');
    expect(await taskRow(house.database, task)).toMatchObject({
      state: 'failed',
      problem: { code: 'engine-died' },
    });
    await ask();
    await handlerOf(poolOf(ANSWERED))();
    expect(await stateOf()).toBe('done');
  });
});
