import { afterAll, beforeAll, expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client } from '../support/client.ts';
import { exampleJob, loadJobFile } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { untilTask } from '../support/taskRows.ts';

let house: TestHouse;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  const club = await house.club();
  editor = await club.as('editor');
  const job = exampleJob('build-or-buy');
  await loadJobFile(editor, job);
  const admin = await club.as('admin');
  const tag = { 'if-match': (await admin.get('/v1/club')).headers.get('etag') ?? '' };
  expect((await admin.put('/v1/club', job.club, tag)).status).toBe(200);
});
afterAll(() => house.close());

async function resultOf(request: object): Promise<Result> {
  const got = await editor.post('/v1/quotes', request);
  expect([got.status, got.text]).toEqual([202, expect.any(String)]);
  const { task, result } = got.json<{ task: string; result: string }>();
  await untilTask(house.database, task.split('/').at(-1) ?? '', { state: 'done' });
  return (await editor.get(result)).json<Result & Record<string, unknown>>();
}

test.each(['build', 'cheapest'] as const)(
  'a quote asked to order %s compares building with buying',
  async (order) => {
    const { request, asOf } = Job.parse(exampleJob('build-or-buy'));
    const asked = {
      ...request,
      buildOrBuy: { ...request.buildOrBuy, order },
    };
    const result = await resultOf({ ...asked, asOf });
    expect(result.buildOrBuyState).toBeUndefined();
    const { buildOrBuy } = result;
    // By hand: the README of the example.
    const totals = buildOrBuy?.combinations.map(({ total }) => total?.amount).sort();
    expect(totals).toEqual(['150.49', '152.20', '157.69', '178.10']);
    expect(result.costs.total.amount).toBe(order === 'build' ? '42.80' : '93.89');
    const bench = result.bench?.looms.map(({ loom }) => loom);
    expect(bench).toEqual(order === 'build' ? ['sedge-front', 'sedge-rear'] : ['sedge-front']);
  },
);

test('hours of less than nothing are refused, with where and how', async () => {
  const got = await editor.post('/v1/quotes', {
    looms: [{ loom: 'sedge-front', quantity: 1 }],
    buildOrBuy: { hourWorth: '-1' },
  });
  expect(got.status).toBe(422);
  expect(got.text).toContain('/buildOrBuy/hourWorth');
});
