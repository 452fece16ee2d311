import { eq } from 'drizzle-orm';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { partNumbers, searchMarks, searchPieces, searchThings, searchWords } from '../../db/schema/index.ts';
import { refillSearch } from '../../db/search/refill.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { testFounder } from '../support/founder.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  const numbers = 'Wrenfield 20 41 77-33; Osterby 8-113';
  await editor.post('/v1/parts', { ...ring, code: 'lug', description: 'Lug for the headlamp', numbers });
  await editor.post('/v1/parts', { ...ring, code: 'lug-b', numbers });
});
afterAll(() => house.close());

const QUERIES = ['ring', 'headl', 'adlam', 'haedlamp', '204177', '77-33', 'red', '1 mm2', 'wrenfield 8-113'];

async function answers(): Promise<unknown[]> {
  const paths = [
    ...QUERIES.flatMap((q) => ['parts', 'offers'].map((list) => `/v1/${list}?q=${encodeURIComponent(q)}`)),
    '/v1/offers?q=corner+pack',
    '/v1/parts/same-numbers',
  ];
  const got: unknown[] = [];
  for (const path of paths) got.push((await editor.get(path)).json());
  return got;
}

async function forget(): Promise<void> {
  await club.run(async ({ tx, club: clubId }) => {
    for (const table of [searchWords, searchPieces, searchThings, partNumbers])
      await tx.delete(table).where(eq(table.clubId, clubId));
    const marks = (['part', 'offer'] as const).map((thing) => ({ clubId, thing, afterCode: '' }));
    await tx.insert(searchMarks).values(marks);
  });
}

test('a search answers as before once words that were lost are gathered again, also by two at once', async () => {
  const before = await answers();
  await forget();
  expect((await editor.get('/v1/parts?q=ring')).json()['found']).toBe(0);
  const actor = { ...testFounder, whole: true };
  await Promise.all([refillSearch(house.database, actor), refillSearch(house.database, actor)]);
  expect(await answers()).toEqual(before);
  expect(await club.run(({ tx }) => tx.select().from(searchMarks))).toEqual([]);
});

test('what was written before its turn came keeps its words', async () => {
  await forget();
  await editor.post('/v1/parts', { ...ring, code: 'anew', description: 'Written meanwhile' });
  await refillSearch(house.database, { ...testFounder, whole: true });
  expect((await editor.get('/v1/parts?q=meanwhile')).json()['found']).toBe(1);
  expect((await editor.get('/v1/parts?q=headlamp')).json()['found']).toBe(1);
});
