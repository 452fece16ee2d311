import { v7 as uuidv7 } from 'uuid';
import { afterAll, beforeAll, beforeEach, describe, expect, test, vi } from 'vitest';
import { claimNext } from '../../db/turns.ts';
import { priceJob } from '../../worker/engine/engine.ts';
import { documentText } from '../../worker/engine/model/canonical.ts';
import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { taskHandler, type HandleDeps } from '../../worker/tasks/handle.ts';
import type { Ended, Pool } from '../../worker/threads/pool.ts';
import type { Client } from '../support/client.ts';
import { exampleJob, loadSmall } from '../support/fixtures.ts';
import { openHouse, silent, type TestHouse } from '../support/house.ts';
import { anHourAgo, askQuote, endOpenTasks, setTask, taskRow, timesRecorded } from '../support/taskRows.ts';
import { ANSWERS, poolOf } from '../support/threads.ts';

// A quote that is there before what lies beside it, the engine's threads played by a few lines.
let house: TestHouse;
let member: Client;
let quote: string;
let task: string;
let whole: Result;

beforeAll(async () => {
  house = await openHouse();
  member = await (await house.club()).as('editor');
  await loadSmall(member);
  const control = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };
  whole = await priceJob(Job.parse(exampleJob('trailer')), control);
});
beforeEach(async () => {
  await endOpenTasks(house.database);
  ({ quote, task } = await askQuote(member, 'loom'));
});
afterAll(() => house.close());

function handlerOf(pool: Pool, more: Partial<HandleDeps> = {}) {
  return taskHandler({
    database: house.database,
    pool,
    wake: { ...house.wake, wake: () => Promise.resolve() },
    log: silent,
    now: () => new Date(),
    newId: uuidv7,
    leaseMs: 5_000,
    letGo: new AbortController().signal,
    ...more,
  });
}

const worked = (result: Result, by = 'work.job') =>
  `{ job: JSON.stringify(${by}), jobHash: 'hash', result: ${JSON.stringify(documentText(result))} }`;

function early(): Result {
  const { beside: _beside, ...rest } = whole;
  return { ...rest, besideState: 'working' };
}
/** The same with the comparison of building and buying still to come, after what lies beside. */
const comparing = (): Result => ({ ...whole, buildOrBuyState: 'working' });
/** The quote is there; then what follows. */
const quotedThen = (then: string) => `
  port.postMessage({ says: 'quoted', worked: ${worked(early())} });
  port.postMessage({ says: 'progress', progress: { phase: 'beside', message: 'looking' } });
  ${then}`;
/** Waits for the flag and says that it heard it. */
const UNTIL_CANCELLED = `Atomics.wait(new Int32Array(work.stop), 0, 0, 3_600_000); port.postMessage({ says: 'cancelled' });`;
const DEAF_NOW = 'for (;;);';

/** A thread whose quote is there at once, and that ends when the test says how. */
function played() {
  let end: (ended: Ended) => void = () => undefined;
  const ended = new Promise<Ended>((resolve) => (end = resolve));
  const pool: Pool = {
    start: (_job, _onProgress, _what, onQuoted) => {
      onQuoted?.(textsOf(early()));
      return { ended, cancel: () => undefined };
    },
    close: () => Promise.resolve(),
  };
  return { pool, end };
}

const textsOf = (result: Result) => ({ job: '{}', jobHash: 'hash', result: documentText(result) });

const row = () => taskRow(house.database, task);
const readQuote = async () =>
  (await member.get(`/v1/quotes/${quote}`)).json<{ state: string; resultState: string; jobHash?: string }>();
const readResult = () => member.get(`/v1/quotes/${quote}/result`);
const besideStateOf = async () => (await readResult()).json<Result & Record<string, unknown>>().besideState;
const untilQuoted = () =>
  vi.waitFor(async () => expect((await readQuote()).resultState).toBe('quote'), {
    timeout: 10_000,
    interval: 20,
  });

describe('a quote that is there before what lies beside it', () => {
  test('can be read, its order lists with it, while its task is running; then the whole, under another tag', async () => {
    const thread = played();
    expect(await readQuote()).toMatchObject({ resultState: 'none' });
    const handled = handlerOf(thread.pool)();
    await untilQuoted();
    expect(await row()).toMatchObject({ state: 'running', progress: { phase: 'beside' } });
    const first = await readResult();
    expect(first.status).toBe(200);
    expect(first.text).toBe(documentText(early()));
    const lists = await member.get(`/v1/quotes/${quote}/order-lists`);
    expect(lists.json<{ items: unknown[] }>().items).toHaveLength(whole.orderLists.length);
    thread.end({ how: 'done', worked: textsOf(whole) });
    expect(await handled).toBe('worked');
    expect(await readQuote()).toMatchObject({ state: 'done', resultState: 'whole', jobHash: 'hash' });
    const last = await readResult();
    expect(last.text).toBe(documentText(whole));
    const tags = [first, last].map(({ headers }) => headers.get('etag') ?? '');
    expect(new Set(tags).size).toBe(2);
    const again = await member.get(`/v1/quotes/${quote}/result`, { 'if-none-match': tags[1] ?? '' });
    expect(again.status).toBe(304);
  });

  test('can be asked at which price an offer wins', async () => {
    const handled = handlerOf(poolOf(quotedThen(UNTIL_CANCELLED)))();
    await untilQuoted();
    expect((await member.post(`/v1/quotes/${quote}/winning-prices`, { offer: 'ring-pack' })).status).toBe(
      202,
    );
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    await handled;
  });

  test.each([
    ['hears it', UNTIL_CANCELLED],
    ['is deaf', DEAF_NOW],
  ])('stays when it is cancelled then, though its thread %s, and says so', async (_how, then) => {
    const handled = handlerOf(poolOf(quotedThen(then)))();
    await untilQuoted();
    expect((await member.post(`/v1/tasks/${task}/cancel`, undefined)).status).toBe(202);
    expect(await handled).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done', problem: null });
    expect(await besideStateOf()).toBe('cancelled');
    expect(await readQuote()).toMatchObject({ state: 'done', resultState: 'whole' });
    expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
  });

  test('keeps what lies beside it when it is cancelled while building is compared with buying', async () => {
    const then = `port.postMessage({ says: 'quoted', worked: ${worked(comparing())} }); ${UNTIL_CANCELLED}`;
    const handled = handlerOf(poolOf(quotedThen(then)))();
    await vi.waitFor(async () => expect((await readResult()).text).toBe(documentText(comparing())), {
      timeout: 10_000,
      interval: 20,
    });
    expect((await member.post(`/v1/tasks/${task}/cancel`, undefined)).status).toBe(202);
    await handled;
    expect(await row()).toMatchObject({ state: 'done', problem: null });
    expect((await readResult()).text).toBe(documentText({ ...whole, buildOrBuyState: 'cancelled' }));
  });

  test('stays when its thread dies then and again, and says so', async () => {
    const thread = played();
    const handled = handlerOf(thread.pool)();
    await untilQuoted();
    thread.end({ how: 'died', memoryMb: 256 });
    expect(await handled).toBe('worked');
    expect(await row()).toMatchObject({ state: 'queued', crashed: 1 });
    expect(await handlerOf(poolOf('process.exit(0);'))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done', problem: null });
    expect(await besideStateOf()).toBe('failed');
  });

  test('can be read after its worker was killed, and is taken up again with the same job', async () => {
    const first = handlerOf(poolOf(quotedThen(UNTIL_CANCELLED)), { leaseMs: 60_000 })();
    await untilQuoted();
    // Another has the task before the first one looks again: as if that had been killed.
    await vi.waitFor(async () => {
      await setTask(house.database, task, { leaseUntil: anHourAgo });
      const claim = await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
      expect(claim.outcome).toBe('claimed');
    });
    expect(await first).toBe('trouble');
    expect((await readResult()).status).toBe(200);
    // What is stored of the club by now does not change the job.
    await member.post('/v1/parts', { kind: 'consumable', code: `later-${task}`, description: 'Later' });
    await setTask(house.database, task, { leaseUntil: anHourAgo });
    const second = poolOf(`port.postMessage({ says: 'done', worked: ${worked(whole)} });`);
    expect(await handlerOf(second)()).toBe('worked');
    expect((await readResult()).text).toBe(documentText(whole));
    expect((await member.get(`/v1/quotes/${quote}/job`)).text).not.toContain(`later-${task}`);
  });

  test('stays where its workers died too often', async () => {
    const stop = new AbortController();
    const first = handlerOf(poolOf(quotedThen(UNTIL_CANCELLED)), { letGo: stop.signal })();
    await untilQuoted();
    stop.abort();
    await first;
    await setTask(house.database, task, { lost: 31 });
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done', problem: null });
    expect(await besideStateOf()).toBe('failed');
  });

  test('is handed back by a worker that stops, and a cancel while it waits keeps it', async () => {
    const stop = new AbortController();
    const first = handlerOf(poolOf(quotedThen(UNTIL_CANCELLED)), { letGo: stop.signal })();
    await untilQuoted();
    stop.abort();
    await first;
    expect(await row()).toMatchObject({ state: 'queued' });
    expect(await readQuote()).toMatchObject({ state: 'queued', resultState: 'quote' });
    await member.post(`/v1/tasks/${task}/cancel`, undefined);
    expect(await row()).toMatchObject({ state: 'queued', cancelAsked: true });
    expect(await handlerOf(poolOf(ANSWERS))()).toBe('worked');
    expect(await row()).toMatchObject({ state: 'done' });
    expect(await besideStateOf()).toBe('cancelled');
  });

  test('is not stored by a worker that has lost the task by then', async () => {
    const late = poolOf(`
      port.postMessage({ says: 'progress', progress: { phase: 'sourcing', message: 'deaf' } });
      Atomics.wait(new Int32Array(work.stop), 0, 0);
      ${quotedThen(`port.postMessage({ says: 'done', worked: ${worked(whole)} });`)}`);
    const first = handlerOf(late, { leaseMs: 60_000 })();
    await vi.waitFor(async () => expect((await row()).progress.message).toBe('deaf'), { timeout: 10_000 });
    await vi.waitFor(async () => {
      await setTask(house.database, task, { leaseUntil: anHourAgo });
      const claim = await claimNext(house.database, { token: uuidv7(), leaseMs: 60_000, free: true });
      expect(claim.outcome).toBe('claimed');
    });
    expect(await first).toBe('trouble');
    expect((await readResult()).status).toBe(409);
    expect(await readQuote()).toMatchObject({ state: 'running', resultState: 'none' });
  });
});
