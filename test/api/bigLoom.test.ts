import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import { bigJob } from '../support/bigLoom.ts';
import type { Client } from '../support/client.ts';
import { loadJobFile } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { testMode } from '../support/mode.ts';

/** As many as may be; on the servers fewer do, since what lies between is the same. */
const WIRES = testMode() === 'embedded' ? 10_000 : 2_000;

let house: TestHouse;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  editor = await (await house.club()).as('editor');
});
afterAll(() => house.close());

test(`a loom of ${WIRES} wires is taken in, quoted and read back through the API`, async () => {
  const job = bigJob({ wires: WIRES, suppliers: 12, seed: 7 });
  const started = performance.now();
  await loadJobFile(editor, job);
  const loaded = performance.now();
  const settings = { ...job.request.settings, solverSeconds: 10, besideSeconds: 0 };
  const asked = await editor.post('/v1/quotes', { looms: job.request.looms, settings, asOf: job.asOf });
  expect(asked.status).toBe(202);
  const quote = asked.json<{ task: string; result: string }>();
  const events = await editor.get(`${quote.task}/events`);
  expect(events.text).toContain('event: ended');
  const answer = await editor.get(quote.result);
  const result = answer.json<Result & Record<string, unknown>>();
  const seconds = (from: number, to: number) => ((to - from) / 1000).toFixed(1);
  console.log(
    `${WIRES} wires, ${job.offers.length} offers (${testMode()}): loaded in ${seconds(started, loaded)} s, quoted in ` +
      `${seconds(loaded, performance.now())} s; ${Math.round(process.memoryUsage().rss / 2 ** 20)} MB in this process`,
  );
  const pieces = result.requirements.flatMap((need) => (need.kind === 'wire' ? need.pieces : []));
  const wires = job.looms.flatMap((loom) => loom.wires ?? []);
  const asCores = result.requirements.flatMap((need) =>
    need.kind === 'length' ? need.pieces.flatMap(({ cores = [] }) => cores) : [],
  );
  const leftOut = result.leftOut.flatMap(({ where }) =>
    where.filter((place) => place.where.startsWith('wire ')),
  );
  expect(wires).toHaveLength(WIRES);
  expect(pieces.length + asCores.length + leftOut.length).toBe(WIRES);
  expect(result.orderLists.length).toBeGreaterThan(0);
}, 180_000);
