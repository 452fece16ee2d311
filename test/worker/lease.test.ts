import { eq } from 'drizzle-orm';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { v4 as newToken } from 'uuid';
import { storeResult } from '../../db/quotes.ts';
import { quotes } from '../../db/schema/index.ts';
import { beatTask, CancelWanted, cancelTask, finishTask, LeaseLost, type Task } from '../../db/tasks.ts';
import { claimNext, giveBack } from '../../db/turns.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { anHourAgo, askQuote, endOpenTasks, setTask, taskRow, timesRecorded } from '../support/taskRows.ts';

const LEASE_MS = 60_000;

let house: TestHouse;
let club: TestClub;
let member: Client;
/** A fresh quote and its task, which nobody works at. */
let quote: string;
let id: string;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  member = await club.as('editor');
  await loadSmall(member);
});
beforeEach(async () => {
  await endOpenTasks(house.database);
  ({ quote, task: id } = await askQuote(member, 'loom'));
});
afterAll(() => house.close());

const claim = (token: string) => claimNext(house.database, { token, leaseMs: LEASE_MS, free: true });
const runOut = () => setTask(house.database, id, { leaseUntil: anHourAgo });
const row = (): Promise<Task> => taskRow(house.database, id);

/** Claims for a worker that is to hold the task. */
async function held(): Promise<string> {
  const token = newToken();
  expect(await claim(token)).toMatchObject({ outcome: 'claimed', token });
  return token;
}

/** Stores a result and ends the task in one transaction, as a worker does. */
function finish(token: string, result: string): Promise<void> {
  return club.run(async (ctx) => {
    await storeResult({
      ctx,
      input: { id: quote, job: '{}', jobHash: 'hash', result: JSON.stringify(result) },
    });
    await finishTask({ ctx, input: { token, state: 'done', message: 'Done.', workSeconds: 1 } });
  });
}

async function storedResult(): Promise<unknown> {
  const rows = await club.run((ctx) =>
    ctx.tx.select({ result: quotes.result }).from(quotes).where(eq(quotes.id, quote)),
  );
  const text = rows[0]?.result;
  return typeof text === 'string' ? JSON.parse(text) : text;
}

describe('a claim', () => {
  test('goes to one of two that ask at once; the other finds nothing', async () => {
    const outcomes = await Promise.all([claim(newToken()), claim(newToken())]);
    expect(outcomes.map(({ outcome }) => outcome).sort()).toEqual(['claimed', 'nothingToDo']);
    expect((await row()).attempts).toBe(1);
  });

  test('of a task that has ended finds nothing to do', async () => {
    await finish(await held(), 'first');
    expect(await claim(newToken())).toEqual({ outcome: 'nothingToDo' });
  });

  test('takes over where a lease has run out, and counts as another attempt', async () => {
    const first = await held();
    await runOut();
    const second = await held();
    expect(await row()).toMatchObject({ state: 'running', attempts: 2, lost: 1, leaseToken: second });
    expect(second).not.toBe(first);
  });

  test('of a task taken over keeps when it was first begun', async () => {
    await held();
    const { startedAt } = await row();
    await runOut();
    await held();
    expect((await row()).startedAt).toEqual(startedAt);
  });
});

describe('a lease', () => {
  test('is renewed by a beat, which takes the progress along', async () => {
    const token = await held();
    await runOut();
    const progress = { phase: 'sourcing', message: 'Half way.', percent: 50 } as const;
    const beat = await beatTask(house.database, { token, leaseMs: LEASE_MS, progress });
    expect(beat).toEqual({ held: true, cancelAsked: false });
    expect(await row()).toMatchObject({ progress });
    expect(await claim(newToken())).toEqual({ outcome: 'nothingToDo' });
  });

  test('that was lost is not renewed, and its progress is not written', async () => {
    const lost = await held();
    await runOut();
    await held();
    const before = await row();
    const progress = { phase: 'sourcing', message: 'Of the past.' } as const;
    expect(await beatTask(house.database, { token: lost, leaseMs: LEASE_MS, progress })).toEqual({
      held: false,
      cancelAsked: false,
    });
    expect(await row()).toEqual(before);
  });

  test('that was lost stores nothing: the result is that of whoever holds the task', async () => {
    const lost = await held();
    await runOut();
    const holder = await held();
    await expect(finish(lost, 'of the past')).rejects.toThrow(LeaseLost);
    expect(await storedResult()).toBeNull();
    expect(await row()).toMatchObject({ state: 'running' });
    await finish(holder, 'of the holder');
    expect(await storedResult()).toBe('of the holder');
    expect(await timesRecorded(house.database, 'task.done', id)).toBe(1);
  });

  test('ends with the task: what is done twice has one effect', async () => {
    const token = await held();
    await finish(token, 'first');
    await expect(finish(token, 'second')).rejects.toThrow(LeaseLost);
    expect(await storedResult()).toBe('first');
    expect(await row()).toMatchObject({ state: 'done', leaseToken: null, leaseUntil: null });
    expect(await timesRecorded(house.database, 'task.done', id)).toBe(1);
  });

  test('is given back with the task, and the attempt does not count', async () => {
    const token = await held();
    const { wakeNumber } = await row();
    expect(await giveBack(house.database, { token, why: 'stopping' })).toBe(wakeNumber + 1);
    expect(await row()).toMatchObject({ state: 'queued', attempts: 0, leaseToken: null, leaseUntil: null });
    await held();
    expect((await row()).attempts).toBe(1);
  });

  test('that was lost cannot be given back', async () => {
    const lost = await held();
    await runOut();
    const holder = await held();
    expect(await giveBack(house.database, { token: lost, why: 'stopping' })).toBeUndefined();
    expect(await row()).toMatchObject({ state: 'running', attempts: 2, leaseToken: holder });
  });
});

describe('a cancel', () => {
  const cancel = () => club.run((ctx) => cancelTask({ ctx, input: { id } }));

  test('ends a task that waits', async () => {
    expect(await cancel()).toMatchObject({ state: 'cancelled', cancelAsked: true });
    expect((await row()).finishedAt).not.toBeNull();
    expect(await claim(newToken())).toEqual({ outcome: 'nothingToDo' });
  });

  test('is a wish where the task is worked, which its worker hears at the next beat', async () => {
    const token = await held();
    const { progress } = await row();
    expect(await cancel()).toMatchObject({ state: 'running', cancelAsked: true, finishedAt: null, progress });
    expect(await beatTask(house.database, { token, leaseMs: LEASE_MS })).toEqual({
      held: true,
      cancelAsked: true,
    });
  });

  test('that was promised is kept, though the work be done before its worker hears of it', async () => {
    const token = await held();
    await cancel();
    await expect(finish(token, 'too late')).rejects.toThrow(CancelWanted);
    expect(await storedResult()).toBeNull();
    const input = { token, state: 'cancelled', message: 'Cancelled.', workSeconds: 1 } as const;
    await club.run((ctx) => finishTask({ ctx, input }));
    expect(await row()).toMatchObject({ state: 'cancelled', cancelAsked: true });
  });
});

test('progress numbers only rise, whatever becomes of the task', async () => {
  const numbers = [(await row()).progressNumber];
  const after = async (step: Promise<unknown>) => {
    await step;
    numbers.push((await row()).progressNumber);
  };
  const progress = { phase: 'sourcing', message: 'On the way.' } as const;
  await after(held());
  await runOut();
  const token = await held();
  await after(beatTask(house.database, { token, leaseMs: LEASE_MS, progress }));
  await after(giveBack(house.database, { token, why: 'stopping' }));
  const last = await held();
  await after(club.run((ctx) => cancelTask({ ctx, input: { id } })));
  const end = { token: last, state: 'cancelled', message: 'Cancelled.', workSeconds: 1 } as const;
  await after(club.run((ctx) => finishTask({ ctx, input: end })));
  const rising = numbers.every((number, index) => number > (numbers[index - 1] ?? -1));
  expect({ numbers, rising }).toEqual({ numbers, rising: true });
});
