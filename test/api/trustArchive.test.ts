import { afterAll, beforeAll, expect, test } from 'vitest';
import { openHouse, type TestHouse } from '../support/house.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { exportClub } from '../../db/archive/exportClub.ts';
import { importClub } from '../../db/archive/importClub.ts';
import type { Entry } from '../../db/archive/entries.ts';
import type { Placed } from '../../db/archive/report.ts';

let house: TestHouse;
beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

test('an archive brings proposals, reports of fits and merged parts, with the revisions that name these', async () => {
  const club = await house.club();
  const editor = await club.as('editor');
  const member = await club.as('member');
  await loadSmall(editor);
  await member.post('/v1/parts', { ...ring, code: 'a-ring' });
  await editor.post('/v1/parts', { ...ring, code: 'the-ring' });
  await editor.post('/v1/fits', { from: 'ring-6', relation: 'takes', to: 'wire-red' });
  const report = {
    says: 'doesNotFit',
    vehicle: 'Marram Ostler 1960',
    loom: 'loom',
    note: 'Too tight.',
    photo: 'https://photos.example/1.jpg',
  };
  const path = '/v1/fits/ring-6/takes/wire-red/reports';
  const added = await member.post(path, report);
  expect(added.status).toBe(201);
  expect((await member.post(path, { ...report, photo: 'http://photos.example/1.jpg' })).status).toBe(422);
  const other = await club.as('member');
  const { id } = added.json<{ id: string }>();
  expect((await other.delete(`${path}/${id}`)).status).toBe(403);
  const tag = { 'if-match': (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '' };
  expect((await editor.post('/v1/parts/ring-6/merge', { into: 'the-ring' }, tag)).status).toBe(200);
  const moved = await editor.get('/v1/fits/the-ring/takes/wire-red/reports');
  expect(moved.json()).toMatchObject({ items: [{ id, ...report }], counted: { fits: 0, doesNotFit: 1 } });

  const all = async (from: typeof club) => {
    const entries: Entry[] = [];
    await from.run(async (ctx) => {
      for await (const entry of exportClub({ ctx })) entries.push(entry);
    });
    return entries;
  };
  const entries = await all(club);
  const restored = await house.club();
  async function* placed(): AsyncGenerator<Placed> {
    for (const [index, entry] of entries.entries()) yield { line: index + 2, entry };
  }
  const ctx = await restored.run((own) => Promise.resolve(own));
  const { tx: _tx, ...base } = ctx;
  expect((await importClub(house.database, base, { entries: placed(), preview: false })).stands).toBe(true);
  expect(await all(restored)).toEqual(entries);
  const there = await restored.as('editor');
  expect((await there.get('/v1/parts/ring-6')).headers.get('location')).toBe('/v1/parts/the-ring');
  expect((await there.get('/v1/proposals?kind=part')).json()['items']).toMatchObject([{ name: 'a-ring' }]);

  expect((await editor.delete(path.replace('ring-6', 'the-ring') + `/${id}`)).status).toBe(204);
});
