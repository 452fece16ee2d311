import { sql } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { loomRevisions } from '../../db/schema/index.ts';
import type { Client } from '../support/client.ts';
import { exampleJob, loadJobFile, loadSmall, oneWireLoom } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
});
afterAll(() => house.close());

const removed = async (path: string) =>
  editor.delete(path, { 'if-match': (await editor.get(path)).headers.get('etag') ?? '' });

describe('what is read', () => {
  test('of a loom can be sent back as it is: as the next revision, and under another code as a new loom', async () => {
    await editor.post('/v1/looms', oneWireLoom('there-and-back'));
    const read = await editor.get('/v1/looms/there-and-back');
    const tag = { 'if-match': read.headers.get('etag') ?? '' };
    const next = await editor.post('/v1/looms/there-and-back/revisions', read.json(), tag);
    expect([next.status, next.json()['revision']]).toEqual([201, 2]);
    const revised: Record<string, unknown> = next.json();
    const copy = await editor.post('/v1/looms', { ...revised, code: 'copied' });
    expect([copy.status, copy.json()['revision']]).toEqual([201, 1]);
    const other = await editor.post('/v1/looms/there-and-back/revisions', copy.json(), {
      'if-match': next.headers.get('etag') ?? '',
    });
    expect(other.status).toBe(422);
  });

  test('of the club can be sent back as it is, and its name stays', async () => {
    const admin = await club.as('admin');
    const read = await admin.get('/v1/club');
    const tag = { 'if-match': read.headers.get('etag') ?? '' };
    const renamed = await admin.put('/v1/club', { ...read.json<{ name: string }>(), name: 'Another' }, tag);
    expect(renamed.status).toBe(422);
    expect((await admin.put('/v1/club', read.json(), tag)).status).toBe(200);
  });
});

describe('a loom', () => {
  test('is revised by whoever read its latest revision, and the earlier ones stay as they were', async () => {
    const { code: _code, ...content } = oneWireLoom('revised');
    await editor.post('/v1/looms', oneWireLoom('revised'));
    const first = await editor.get('/v1/looms/revised');
    const next = { ...content, name: 'One wire, longer' };
    expect((await editor.post('/v1/looms/revised/revisions', next)).status).toBe(428);
    const added = await editor.post('/v1/looms/revised/revisions', next, {
      'if-match': first.headers.get('etag') ?? '',
    });
    expect(added.status).toBe(201);
    expect(added.headers.get('location')).toBe('/v1/looms/revised/revisions/2');
    expect(
      (
        await editor.post('/v1/looms/revised/revisions', next, {
          'if-match': first.headers.get('etag') ?? '',
        })
      ).status,
    ).toBe(412);
    expect((await editor.get('/v1/looms/revised')).json()).toMatchObject({
      revision: 2,
      name: 'One wire, longer',
    });
    expect((await editor.get('/v1/looms/revised/revisions/1')).json()).toEqual(first.json());
    expect(
      (await editor.get('/v1/looms/revised/revisions'))
        .json<{ items: { revision: number }[] }>()
        .items.map((item) => item.revision),
    ).toEqual([2, 1]);
    expect((await editor.get('/v1/looms/revised/revisions/3')).status).toBe(404);
  });

  test('keeps the parts that any of its revisions names', async () => {
    const got = await removed('/v1/parts/ring-6');
    expect(got.status).toBe(409);
  });

  test('is removed with its revisions, unless a quote was made of it', async () => {
    await editor.post('/v1/looms', oneWireLoom('unwanted'));
    expect((await editor.delete('/v1/looms/unwanted', { 'if-match': '"7-abc"' })).status).toBe(412);
    expect((await removed('/v1/looms/unwanted')).status).toBe(204);
    expect((await editor.get('/v1/looms/unwanted')).status).toBe(404);
    await editor.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
    const got = await removed('/v1/looms/loom');
    expect(got.status).toBe(409);
    expect(got.json()['detail']).toMatch(/quote/i);
  });

  test('of either example comes back as it was sent, with its defaults filled in', async () => {
    for (const name of ['three-wires', 'trailer'] as const) {
      const own = await (await house.club()).as('editor');
      const job = exampleJob(name);
      await loadJobFile(own, job);
      for (const loom of job.looms)
        expect((await own.get(`/v1/looms/${loom.code}`)).json()).toMatchObject(loom);
    }
  });
});

test('a stored revision cannot be changed even by a statement of ours', async () => {
  const change = club.run((ctx) => ctx.tx.update(loomRevisions).set({ createdBy: sql`'somebody else'` }));
  await expect(change).rejects.toThrow();
});
