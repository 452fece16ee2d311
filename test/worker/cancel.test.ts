import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { slowJob } from '../support/slowJob.ts';
import { storeJob } from '../support/storeJob.ts';
import { askQuote, databaseNow, untilSolving, untilTask } from '../support/taskRows.ts';

let house: TestHouse;
let member: Client;

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  await storeJob(club, slowJob());
  member = await club.as('member');
  await house.startWorker();
});
afterAll(() => house.close());

test('a cancel stops a solve within a second, by the clock of the database', async () => {
  const { quote, task } = await askQuote(member, 'slow');
  await untilSolving(house.database, task);
  const asked = await databaseNow(house.database);
  expect((await member.post(`/v1/tasks/${task}/cancel`, undefined)).status).toBe(202);
  const { finishedAt } = await untilTask(house.database, task, { state: 'cancelled' });
  expect((finishedAt?.getTime() ?? Infinity) - asked.getTime()).toBeLessThan(1_000);
  expect((await member.get(`/v1/quotes/${quote}/result`)).status).toBe(409);
});
