import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Part } from '../../worker/engine/model/part.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, oneWireLoom, ring, shop } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { askedOf, catalogueOf, drawnCatalogue, stored, TODAY } from '../support/lists.ts';

let house: TestHouse;
let now = new Date(`${TODAY}T12:00:00.000Z`);
const later = () => {
  now = new Date(now.getTime() + 1_000);
};

beforeAll(async () => {
  house = await openHouse({ now: () => now });
});
afterAll(() => house.close());

interface Listed<T> {
  items: T[];
  next: string | null;
}

/** All pages of a list, each of so many. */
async function paged<T>(client: Client, path: string, query: string, limit: number): Promise<T[]> {
  const all: T[] = [];
  let cursor = '';
  do {
    const got = await client.get(`${path}?limit=${limit}${query}${cursor}`);
    expect(got.status, got.text).toBe(200);
    const { items, next } = got.json<Listed<T>>();
    expect(items.length).toBeLessThanOrEqual(limit);
    all.push(...items);
    cursor = next === null ? '' : `&cursor=${encodeURIComponent(next)}`;
    // A list that never ends would be told by nothing else.
    expect(all.length).toBeLessThan(200);
  } while (cursor !== '');
  return all;
}

/** What is wrong with a query. */
async function faults(client: Client, path: string) {
  const got = await client.get(path);
  expect(got.status, got.text).toBe(422);
  return got.json<{
    findings: { at: string; code: string; found?: string; limit?: string; todo: string }[];
  }>().findings;
}
const codes = async (client: Client, path: string) =>
  (await faults(client, path)).map(({ code, at }) => `${code} ${at}`);

describe('a list', () => {
  test('gives all that its filter keeps, each once and in its order, page by page, whatever it is sorted by', async () => {
    await fc.assert(
      fc.asyncProperty(fc.record(drawnCatalogue), fc.integer({ min: 1, max: 4 }), async (drawn, limit) => {
        const club = await house.club();
        const all = catalogueOf(drawn);
        await stored(club, all);
        const viewer = await club.as('viewer');
        for (const { name, query, expected } of askedOf(all))
          expect([name, query, await paged(viewer, `/v1/${name}`, query, limit)]).toEqual([
            name,
            query,
            expected,
          ]);
      }),
      { numRuns: 8 },
    );
  });

  test('has the same rows as a table, in the same order', async () => {
    await fc.assert(
      fc.asyncProperty(fc.record(drawnCatalogue), async (drawn) => {
        const club = await house.club();
        const all = catalogueOf(drawn);
        await stored(club, all);
        const viewer = await club.as('viewer');
        for (const { name, query, expected } of askedOf(all)) {
          const table = await viewer.get(`/v1/${name}?format=csv${query}`);
          expect(table.status).toBe(200);
          const [, ...rows] = table.text
            .replace(/^\uFEFF/, '')
            .trim()
            .split('\r\n');
          const first = (body: { code?: string; from?: string }) => body.code ?? body.from ?? '';
          // A kit has a row for each thing in it.
          const seen = rows
            .map((row) => row.split(',')[0])
            .filter((code, at, given) => code !== '' && (name === 'fits' || code !== given[at - 1]));
          expect([name, query, seen]).toEqual([name, query, expected.map(first)]);
        }
      }),
      { numRuns: 3 },
    );
  });

  test('goes on where it was while others add and change entries before that place', async () => {
    const club = await house.club();
    const editor = await club.as('editor');
    for (const [code, description] of [
      ['a', 'Cap'],
      ['b', 'Boot'],
      ['c', 'Ring'],
    ] as const)
      await editor.post('/v1/parts', { kind: 'boot', code, description });
    const first = await editor.get('/v1/parts?sort=name&limit=2');
    expect(first.json<Listed<Part>>().items.map(({ code }) => code)).toEqual(['b', 'a']);
    await editor.post('/v1/parts', { kind: 'boot', code: 'd', description: 'Band' });
    const link = /<([^>]+)>; rel="next"/.exec(first.headers.get('link') ?? '')?.[1] ?? '';
    expect(link).toContain('sort=name');
    expect((await editor.get(link)).json<Listed<Part>>()).toMatchObject({
      items: [{ code: 'c' }],
      next: null,
    });
  });
});

describe('what a list cannot do', () => {
  let viewer: Client;
  beforeAll(async () => {
    const club = await house.club();
    const editor = await club.as('editor');
    viewer = await club.as('viewer');
    for (const code of ['a', 'b', 'c']) await editor.post('/v1/parts', { ...ring, code });
  });

  test('a cursor of another order is refused, and says which order it is of', async () => {
    const next = async (sort: string) =>
      (await viewer.get(`/v1/parts?limit=1${sort}`)).json<Listed<Part>>().next ?? '';
    const [plain, named, updated] = [await next(''), await next('&sort=name'), await next('&sort=updated')];
    expect(await next('&sort=code')).toBe(plain);
    const other = ['cursor-of-another-order /cursor'];
    expect(await codes(viewer, `/v1/parts?cursor=${named}`)).toEqual(other);
    expect(await codes(viewer, `/v1/parts?sort=updated&cursor=${plain}`)).toEqual(other);
    expect(await codes(viewer, `/v1/parts?sort=name&cursor=${updated}`)).toEqual(other);
    const [fault] = await faults(viewer, `/v1/parts?cursor=${named}`);
    expect(fault?.todo).toContain('sort=name');
  });

  test.each([
    'updated a',
    'updated a 2026-02-31T00:00:00.000000',
    'updated a 0000-01-01T00:00:00.000000',
    'updated a 2026-02-03T25:00:00.000000',
    'updated a 2026-02-03',
    'updated a/b 2026-02-03T00:00:00.000000',
    'seen a 2026-02-30',
    'seen a 0000-01-01',
    'seen a infinity',
    'name a \0',
    'name a,b Ring',
    'colour a red',
    'constructor a b',
  ])('a cursor that no list gave is refused: %j', async (text) => {
    const cursor = Buffer.from(text).toString('base64url');
    for (const sort of ['', '&sort=updated', '&sort=name', '&sort=seen'])
      expect(await codes(viewer, `/v1/offers?cursor=${cursor}${sort}`)).toEqual(['unknown-cursor /cursor']);
  });

  test('an order, a kind, a relation or a state that there is not is refused with those that there are', async () => {
    const offered = async (path: string) => {
      const [fault] = await faults(viewer, path);
      return JSON.stringify(fault);
    };
    expect(await offered('/v1/parts?sort=colour')).toMatch(/code.*updated.*name/);
    expect(await offered('/v1/stock?sort=name')).toMatch(/code.*updated/);
    expect(await offered('/v1/offers?sort=newest')).toMatch(/code.*updated.*name.*seen/);
    expect(await offered('/v1/quotes?sort=code')).toMatch(/newest.*updated/);
    expect(await offered('/v1/offers?kind=lamp')).toMatch(/wire.*terminal/);
    expect(await offered('/v1/fits?relation=likes')).toMatch(/mates.*takes/);
    expect(await offered('/v1/fits?status=open')).toMatch(/proposed.*confirmed.*refuted/);
    expect(await offered('/v1/quotes?state=ready')).toMatch(/queued.*running.*done/);
    expect(await offered('/v1/suppliers?country=gb')).toContain('Two capital letters');
    expect(await codes(viewer, '/v1/offers?stale=-1')).toHaveLength(1);
    expect(await codes(viewer, '/v1/offers?stale=soon')).toHaveLength(1);
  });

  test('a search has an order of its own and takes no other, nor what only a plain list takes', async () => {
    expect(await codes(viewer, '/v1/parts?q=ring&sort=name')).toEqual(['not-with-search /sort']);
    expect(await codes(viewer, '/v1/parts?colour=red&sort=code')).toEqual(['not-with-search /sort']);
    expect(await codes(viewer, '/v1/offers?q=ring&stale=3')).toEqual(['not-with-search /stale']);
    expect(await codes(viewer, '/v1/offers?q=ring&kind=wire')).toEqual(['not-with-search /kind']);
  });

  test('a table has no pages and no search, and a template has nothing else', async () => {
    expect(await codes(viewer, '/v1/parts?format=csv&limit=3')).toEqual(['not-with-csv /limit']);
    expect(await codes(viewer, '/v1/parts?format=csv&q=ring')).toEqual(['not-with-csv /q']);
    expect(await codes(viewer, '/v1/parts?format=template&sort=name')).toEqual(['not-with-csv /sort']);
  });
});

describe('filters of the smaller lists', () => {
  test('keep the suppliers of a country, the rates of a currency, and the lanes from and to a country', async () => {
    const editor = await (await house.club()).as('editor');
    const added = async (path: string, body: object) =>
      expect((await editor.post(path, body)).status).toBe(201);
    await added('/v1/suppliers', { ...shop, code: 'near', country: 'GB' });
    await added('/v1/suppliers', { ...shop, code: 'far', country: 'FR' });
    await added('/v1/suppliers', { ...shop, code: 'unknown' });
    await added('/v1/rates', { code: 'e1', currency: 'EUR', on: '2026-11-01', rate: '0.9' });
    await added('/v1/rates', { code: 'u1', currency: 'USD', on: '2026-11-01', rate: '0.8' });
    for (const [code, from, to] of [
      ['fg', 'FR', 'GB'],
      ['gf', 'GB', 'FR'],
      ['gg', 'GB', 'GB'],
    ] as const)
      await added('/v1/lanes', { code, from, to, taxPercent: 20 });
    const found = async (path: string) =>
      (await editor.get(path)).json<Listed<{ code: string }>>().items.map(({ code }) => code);
    expect(await found('/v1/suppliers?country=GB')).toEqual(['near']);
    expect(await found('/v1/suppliers?country=DE')).toEqual([]);
    expect(await found('/v1/rates?currency=USD')).toEqual(['u1']);
    expect(await found('/v1/lanes?from=GB')).toEqual(['gf', 'gg']);
    expect(await found('/v1/lanes?to=GB')).toEqual(['fg', 'gg']);
    expect(await found('/v1/lanes?from=GB&to=GB&sort=updated')).toEqual(['gg']);
  });
});

describe('looms and quotes', () => {
  let club: TestClub;
  let editor: Client;
  const found = async (client: Client, path: string) =>
    (await client.get(path))
      .json<Listed<{ code?: string; id?: string }>>()
      .items.map(({ code, id }) => code ?? id);

  beforeAll(async () => {
    club = await house.club();
    editor = await club.as('editor');
    await loadSmall(editor);
  });

  test('are listed by whose they are, and what one member alone sees stays unseen', async () => {
    const ada = await club.joined('member', 'Ada');
    const bo = await club.joined('member', 'Bo');
    for (const [{ client }, code, seenBy] of [
      [ada, 'of-ada', 'club'],
      [ada, 'hers', 'owner'],
      [bo, 'of-bo', 'club'],
    ] as const)
      expect((await client.post(`/v1/looms?seenBy=${seenBy}`, oneWireLoom(code))).status).toBe(201);
    expect(await found(ada.client, '/v1/looms?owner=me')).toEqual(['hers', 'of-ada']);
    expect(await found(bo.client, `/v1/looms?owner=${ada.id}`)).toEqual(['of-ada']);
    expect(await found(bo.client, '/v1/looms?owner=me&sort=updated')).toEqual(['of-bo']);
    const asked = async ({ client }: { client: Client }) =>
      (await client.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })).json<{ id: string }>().id;
    const [hers, his] = [await asked(ada), await asked(bo)];
    expect(await found(ada.client, '/v1/quotes?owner=me')).toEqual([hers]);
    expect(await found(ada.client, `/v1/quotes?owner=${bo.id}&state=queued`)).toEqual([his]);
    expect(await found(ada.client, '/v1/quotes?state=done')).toEqual([]);
  });

  test('of an owner who is not there, or of a key that is nobody’s, are refused in words', async () => {
    const nobody = '01890000-0000-7000-8000-000000000000';
    for (const list of ['looms', 'quotes']) {
      expect(await codes(editor, `/v1/${list}?owner=me`)).toEqual(['unknown-member /owner']);
      expect(await codes(editor, `/v1/${list}?owner=${nobody}`)).toEqual(['unknown-member /owner']);
      expect(await faults(editor, `/v1/${list}?owner=ada`)).toHaveLength(1);
    }
    const other = await (await house.club()).joined('member', 'Cy');
    expect(await codes(editor, `/v1/looms?owner=${other.id}`)).toEqual(['unknown-member /owner']);
  });

  test('of one owner and state are paged whole, by the newest change too', async () => {
    const own = await house.club();
    const member = await own.joined('editor', 'Dee');
    await loadSmall(member.client);
    const ids: string[] = [];
    for (let asked = 0; asked < 5; asked++)
      ids.push(
        (await member.client.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })).json<{
          id: string;
        }>().id,
      );
    const newest = [...ids].reverse();
    const all = async (query: string) =>
      (await paged<{ id: string }>(member.client, '/v1/quotes', query, 2)).map(({ id }) => id);
    expect(await all('')).toEqual(newest);
    expect(await all('&sort=newest&owner=me')).toEqual(newest);
    // All changed at the same moment, so that they stand by their ids.
    expect(await all('&sort=updated&state=queued')).toEqual([...ids].sort());
  });

  test('stand with the newest change first where that is asked', async () => {
    const own = await (await house.club()).as('editor');
    await loadSmall(own);
    const tags = new Map<string, string>();
    for (const code of ['a', 'b', 'c']) {
      later();
      tags.set(code, (await own.post('/v1/looms', oneWireLoom(code))).headers.get('etag') ?? '');
    }
    later();
    const { code: _code, ...next } = oneWireLoom();
    expect((await own.post('/v1/looms/b/revisions', next, { 'if-match': tags.get('b') ?? '' })).status).toBe(
      201,
    );
    expect(
      (await paged<{ code: string }>(own, '/v1/looms', '&sort=updated', 1)).map(({ code }) => code),
    ).toEqual(['b', 'c', 'a', 'loom']);
    const quotes: { id: string; task: string }[] = [];
    for (let asked = 0; asked < 3; asked++) {
      later();
      const got = await own.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
      const { id, task } = got.json<{ id: string; task: string }>();
      quotes.push({ id, task });
    }
    later();
    const [first, second, third] = quotes.map(({ id }) => id);
    expect((await own.post(`${quotes[0]?.task ?? ''}/cancel`, {})).status).toBeLessThan(300);
    const all = async (query: string) =>
      (await paged<{ id: string }>(own, '/v1/quotes', query, 1)).map(({ id }) => id);
    expect(await all('&sort=updated')).toEqual([first, third, second]);
    expect(await all('&sort=updated&state=cancelled')).toEqual([first]);
    expect(await all('&state=queued')).toEqual([third, second]);
  });
});
