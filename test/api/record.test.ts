import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client, Got } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse, type TestMember } from '../support/house.ts';

interface Row {
  id: string;
  at: string;
  who: string;
  action: string;
  what: string;
  thing: string;
  subject: string;
  before?: unknown;
  after?: unknown;
  seenBy: string;
}

let house: TestHouse;
let club: TestClub;
let ada: TestMember;
let ben: TestMember;
let editor: Client;
beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  ada = await club.joined('editor', 'Ada');
  ben = await club.joined('editor', 'Ben');
});
afterAll(() => house.close());

const tag = (got: Got) => ({ 'if-match': got.headers.get('etag') ?? '' });
const rows = async (client: Client, query: string) => {
  const got = await client.get(`/v1/record?${query}`);
  expect([query, got.status]).toEqual([query, 200]);
  return got.json<{ items: Row[]; next: string | null }>();
};

describe('the record', () => {
  test('has of a thing who did what, with what was before and after, newest first', async () => {
    const path = '/v1/parts/ring-9';
    const first = { ...ring, code: 'ring-9' };
    const second = { ...first, description: 'Another' };
    const added = await ada.client.post('/v1/parts', first);
    const changed = await ben.client.put(path, second, tag(added));
    await ada.client.delete(path, tag(changed));
    const { items } = await rows(ada.client, 'thing=part:ring-9');
    expect(items.map(({ who, what }) => `${who}: ${what}`)).toEqual([
      'Ada: part removed',
      'Ben: part changed',
      'Ada: part added',
    ]);
    expect(items[0]?.before).toMatchObject(second);
    expect(items[0]).not.toHaveProperty('after');
    expect(items[1]).toMatchObject({ before: first, after: second });
    expect(items[2]).not.toHaveProperty('before');
  });

  test('tells of a revision what the revision before was', async () => {
    const loom = { code: 'twice', name: 'One', parts: [{ part: 'ring-6', quantity: 1 }] };
    const added = await ada.client.post('/v1/looms', loom);
    await ada.client.post('/v1/looms/twice/revisions', { ...loom, name: 'Two' }, tag(added));
    const { items } = await rows(ada.client, 'thing=loom:twice');
    expect(items.map(({ subject }) => subject)).toEqual(['twice/2', 'twice/1']);
    expect(items[0]).toMatchObject({ before: { name: 'One' }, after: { name: 'Two' } });
  });

  test('can be asked for by person, action and day, page by page', async () => {
    await ben.client.post('/v1/parts', { ...ring, code: 'ring-b' });
    const byBen = await rows(ada.client, `person=${ben.id}`);
    expect(byBen.items.length).toBeGreaterThan(0);
    expect(byBen.items.every(({ who }) => who === 'Ben')).toBe(true);
    const all = await rows(ada.client, 'limit=100');
    const paged: Row[] = [];
    for (let cursor: string | null = ''; cursor !== null;) {
      const page: { items: Row[]; next: string | null } = await rows(
        ada.client,
        `limit=3${cursor === '' ? '' : `&cursor=${cursor}`}`,
      );
      paged.push(...page.items);
      cursor = page.next;
    }
    expect(paged).toEqual(all.items);
    const added = await rows(ada.client, 'limit=100&action=part.create');
    expect(added.items).toEqual(all.items.filter(({ action }) => action === 'part.create'));
    const day = all.items[0]?.at.slice(0, 10) ?? '';
    expect((await rows(ada.client, `limit=100&from=${day}`)).items.length).toBeGreaterThan(0);
    expect((await rows(ada.client, 'to=2000-01-01')).items).toEqual([]);
    expect((await rows(ada.client, 'from=2999-01-01')).items).toEqual([]);
  });

  test('shows what was done to something private to its owner alone', async () => {
    await ada.client.post('/v1/looms?seenBy=owner', {
      code: 'hidden',
      name: 'Hidden',
      parts: [{ part: 'ring-6', quantity: 1 }],
    });
    expect((await rows(ada.client, 'thing=loom:hidden')).items).toMatchObject([{ seenBy: 'owner' }]);
    for (const client of [ben.client, await club.as('admin')])
      expect((await rows(client, 'thing=loom:hidden')).items).toEqual([]);
  });

  test('is for editors, and has no row of another club', async () => {
    expect((await (await club.as('member')).get('/v1/record')).status).toBe(403);
    const other = await house.club();
    const { items } = await rows(await other.as('admin'), 'limit=100');
    expect(items.map(({ action }) => action)).toEqual(['key.create', 'club.create']);
  });
});

describe('about an entry', () => {
  test('stands who put it in and who last changed it, also after they have left', async () => {
    const leaver = await club.joined('editor', 'Ida');
    const added = await leaver.client.post('/v1/parts', { ...ring, code: 'ring-i' });
    await leaver.client.post(`/v1/members/${leaver.id}/leave`, undefined);
    await ben.client.put('/v1/parts/ring-i', { ...ring, code: 'ring-i', description: 'x' }, tag(added));
    const about = await ben.client.get('/v1/parts/ring-i/about');
    expect(about.json()).toMatchObject({ createdBy: 'Ida', updatedBy: 'Ben' });
  });

  test('names a key of no member by its label, and tells of a loom whose it is', async () => {
    for (const path of ['parts/ring-6', 'suppliers/shop', 'offers/red-metre'])
      expect((await editor.get(`/v1/${path}/about`)).json()).toMatchObject({
        createdBy: 'key editor of a test',
      });
    await ada.client.post('/v1/fits', { from: 'ring-6', relation: 'takes', to: 'wire-red' });
    expect((await editor.get('/v1/fits/ring-6/takes/wire-red/about')).json()).toMatchObject({
      createdBy: 'Ada',
    });
    await ada.client.post('/v1/looms', {
      code: 'of-ada',
      name: 'Of Ada',
      parts: [{ part: 'ring-6', quantity: 1 }],
    });
    expect((await editor.get('/v1/looms/of-ada/about')).json()).toMatchObject({
      createdBy: 'Ada',
      owner: 'Ada',
      seenBy: 'club',
    });
    expect((await editor.get('/v1/parts/no-such/about')).status).toBe(404);
  });
});
