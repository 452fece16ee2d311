import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exampleJob } from '../support/fixtures.ts';
import { storeJob } from '../support/storeJob.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { untilTask } from '../support/taskRows.ts';
import { contentOf, exported, sent } from '../support/archives.ts';

let house: TestHouse;
let club: TestClub;
let t = Date.now();
const lap = (s: string) => { console.log(s, Date.now() - t); t = Date.now(); };
beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  club = await house.club();
});
afterAll(() => house.close());
test('x', async () => {
  lap('start');
  await storeJob(club, exampleJob('van'));
  lap('stored');
  const admin = await club.as('admin');
  const job = exampleJob('van');
  const got = await admin.post('/v1/quotes', { ...job.request, settings: { besideSeconds: 0 } });
  const { task } = got.json<{ task: string }>();
  await untilTask(house.database, task.split('/').at(-1) ?? '', { state: 'done' });
  lap('quoted');
  const archive = await exported(admin);
  lap('exported');
  console.log(archive.length, contentOf(archive).map((l) => l.length).sort((a, b) => b - a).slice(0, 5));
  const other = await house.club();
  const got2 = await sent(await other.as('admin'), archive);
  lap('imported');
  console.log(got2.text.slice(0, 3000));
  expect(contentOf(await exported(await other.as('admin')))).toEqual(contentOf(archive));
  lap('again');
});
