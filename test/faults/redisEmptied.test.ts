import { Redis } from 'ioredis';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { figure } from '../support/figures.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { privateRedis } from '../support/servers.ts';
import { slowJob } from '../support/slowJob.ts';
import { storeJob } from '../support/storeJob.ts';
import { askQuote, timesRecorded, untilSolving, untilTask } from '../support/taskRows.ts';

// A Redis of the file's own, which it may empty.
let redis: Awaited<ReturnType<typeof privateRedis>>;
let admin: Redis;
let house: TestHouse;
let small: Client;
let slow: Client;

beforeAll(async () => {
  redis = await privateRedis();
  admin = new Redis(redis.url);
  house = await openHouse({ redisUrl: redis.url });
  small = await (await house.club()).as('editor');
  await loadSmall(small);
  const club = await house.club();
  await storeJob(club, slowJob());
  slow = await club.as('member');
});
afterAll(async () => {
  await house.close();
  admin.disconnect();
  await redis.stop();
});

async function expectDoneOnce(task: string): Promise<void> {
  await untilTask(house.database, task, { state: 'done', attempts: 1 });
  expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
}

describe('a Redis that is emptied', () => {
  test('with 200 tasks queued loses none of them: the worker finds them without a waking', async () => {
    const asked: string[] = [];
    for (let n = 0; n < 200; n++) asked.push((await askQuote(small, 'loom')).task);
    expect(await admin.dbsize()).toBeGreaterThan(0);
    await admin.flushall();
    await house.startWorker();
    for (const task of asked) await expectDoneOnce(task);
    figure('tasks queued when Redis was emptied, each done once', asked.length, 'tasks');
  }, 180_000);

  test('while a task is worked changes nothing for that task, and the next is heard of', async () => {
    const { task } = await askQuote(slow, 'slow', { solverSeconds: 2 });
    await untilSolving(house.database, task);
    await admin.flushall();
    await expectDoneOnce(task);
    await expectDoneOnce((await askQuote(small, 'loom')).task);
  });
});
