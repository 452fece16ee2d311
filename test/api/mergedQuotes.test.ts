import { afterAll, beforeAll, expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import type { Client } from '../support/client.ts';
import { gbp, loadSmall, redOffer, redWire, ring, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());

/** A catalogue with each part in it twice; the cheaper offers are of the second ones. */
async function twice(): Promise<Client> {
  const editor = await (await house.club()).as('editor');
  await loadSmall(editor);
  const made = [
    ['/v1/parts', { ...ring, code: 'ring-m6' }],
    ['/v1/parts', { ...redWire, code: 'wire-red-b' }],
    ['/v1/offers', { ...ringOffer, code: 'm6-pack', part: 'ring-m6', packPrice: gbp('1.00') }],
    ['/v1/offers', { ...redOffer, code: 'red-b', part: 'wire-red-b', pricePerMetre: gbp('0.40') }],
    ['/v1/fits', { from: 'ring-m6', relation: 'standsInFor', to: 'ring-6', status: 'confirmed' }],
  ] as const;
  for (const [path, body] of made) expect((await editor.post(path, body)).status).toBe(201);
  return editor;
}

async function quoted(editor: Client) {
  const asked = await editor.post('/v1/quotes', {
    looms: [{ loom: 'loom', quantity: 3 }],
    settings: { besideSeconds: 0 },
  });
  const { task, result } = asked.json<{ task: string; result: string }>();
  // The stream ends with the task.
  await editor.get(`${task}/events`);
  const { costs, purchases } = (await editor.get(result)).json<Result>();
  return { costs, bought: purchases.map(({ offer }) => offer) };
}

test.each([
  ['into those that the loom names', false],
  ['into those that the loom does not name', true],
])('a quote costs the same and buys the same offers after duplicates were merged %s', async (_way, away) => {
  const editor = await twice();
  const before = await quoted(editor);
  expect([...before.bought].sort()).toEqual(['m6-pack', 'red-b']);
  for (const [named, other] of [
    ['ring-6', 'ring-m6'],
    ['wire-red', 'wire-red-b'],
  ] as const) {
    const [part, into] = away ? [named, other] : [other, named];
    const tag = { 'if-match': (await editor.get(`/v1/parts/${part}`)).headers.get('etag') ?? '' };
    expect((await editor.post(`/v1/parts/${part}/merge`, { into }, tag)).status).toBe(200);
  }
  expect(await quoted(editor)).toEqual(before);
});
