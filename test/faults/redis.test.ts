import { Redis } from 'ioredis';
import { afterEach, describe, expect, test } from 'vitest';
import { startWorker } from '../../worker/service.ts';
import { sweepOnce } from '../../worker/tasks/sweep.ts';
import { queueListen, queueWake } from '../../worker/wake/bullmq.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, silent, type TestHouse } from '../support/house.ts';
import { freshRedis } from '../support/redis.ts';
import { privateRedis } from '../support/servers.ts';
import { anHourAgo, askQuote, setTask, timesRecorded, untilTask } from '../support/taskRows.ts';

// Each test has a Redis of its own, which it may empty or end.
let house: TestHouse | undefined;
let redis: Awaited<ReturnType<typeof privateRedis>> | undefined;

afterEach(async () => {
  await house?.close();
  await redis?.stop();
  house = redis = undefined;
});

async function open() {
  redis = await privateRedis();
  house = await openHouse({ redisUrl: redis.url });
  const editor = await (await house.club()).as('editor');
  await loadSmall(editor);
  return { house, redis, editor };
}

describe('Redis', () => {
  test('that is emptied with 20 tasks queued loses none of them', async () => {
    const { house, redis, editor } = await open();
    const asked = [];
    for (let n = 0; n < 20; n++) asked.push(await askQuote(editor, 'loom'));
    const admin = new Redis(redis.url);
    expect(await admin.keys('*')).not.toEqual([]);
    await admin.flushall();
    admin.disconnect();
    await house.startWorker();
    // Time is moved back instead of waiting: the sweep sees tasks that were woken long ago.
    for (const { task } of asked) await setTask(house.database, task, { wokenAt: anHourAgo });
    await sweepOnce({ database: house.database, wake: house.wake, log: silent });
    for (const { task } of asked) {
      await untilTask(house.database, task, { state: 'done', attempts: 1 });
      expect(await timesRecorded(house.database, 'task.done', task)).toBe(1);
    }
  });

  test('that is away costs no request: the quote is taken in, readiness says so, and the sweep makes it good', async () => {
    const { house, redis, editor } = await open();
    expect((await editor.get('/readyz')).status).toBe(200);
    await redis.stop();
    const { task } = await askQuote(editor, 'loom');
    await expect.poll(async () => (await editor.get('/readyz')).status, { timeout: 10_000 }).toBe(503);
    await untilTask(house.database, task, { state: 'queued', attempts: 0 });
    const other = await openHouseAt(house);
    await setTask(house.database, task, { wokenAt: anHourAgo });
    await sweepOnce({ database: house.database, wake: other.wake, log: silent });
    await untilTask(house.database, task, { state: 'done' });
    await other.close();
  });
});

/** A worker on the run's Redis for the database of a house whose own Redis is gone. */
async function openHouseAt(house: TestHouse) {
  const link = { ...freshRedis(), log: silent };
  const wake = queueWake(link);
  const worker = await startWorker({
    database: house.database,
    wake,
    listen: (handle) => queueListen(handle, { ...link, concurrency: 1, leaseMs: 5_000 }),
    log: silent,
    threads: 1,
    leaseMs: 5_000,
    stopMs: 1_000,
    wakeAllFirst: false,
  });
  return {
    wake,
    close: async () => {
      await worker.stop();
      await wake.close();
    },
  };
}
