import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { bestOf } from '../../db/search/find.ts';
import { readingsOf } from '../../db/search/units.ts';
import { wordsOfPart } from '../../db/search/words.ts';
import { Part } from '../../worker/engine/model/part.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import type { Client, Got } from '../support/client.ts';

const tag = (got: Got) => ({ 'if-match': got.headers.get('etag') ?? '' });

let house: TestHouse;
let editor: Client;

const given = [
  {
    kind: 'wire',
    code: 'thin-14-gw',
    description: 'Thin-wall wire, main feed',
    cableType: 'thin-wall',
    size: '14/0.30',
    colour: 'green/white',
    maker: 'Osterby',
    makerCode: 'T 14-30 GW',
  },
  {
    kind: 'wire',
    code: 'pvc-1.5-red',
    description: 'Red wire for the lamps',
    cableType: 'pvc',
    size: '1.5 mm²',
    colour: 'red',
  },
  {
    kind: 'wire',
    code: 'pvc-16',
    description: 'Wire 16 AWG',
    cableType: 'pvc',
    size: '16 AWG',
    colour: 'black',
  },
  {
    kind: 'terminal',
    code: 'ring-6-15',
    description: 'Ring terminal for a 6 mm stud',
    terminalType: 'ring',
    numbers: 'Wrenfield 20 41 77-33; Osterby 8-113',
  },
  {
    kind: 'terminal',
    code: 'eyelet-6',
    description: 'Eyelet of brass',
    terminalType: 'ring',
    numbers: 'wrenfield 204177-33',
  },
  { kind: 'terminal', code: 'bullet-47', description: 'Bullet', terminalType: 'bullet', sizeMm: 4.7 },
  { kind: 'housing', code: 'plug-2', description: 'Two way plug for the headlamp', ways: 2 },
  { kind: 'boot', code: 'boot-a', description: 'Rubber boot, grey', note: 'fits the headlamp bowl' },
];
let parts: Part[];

beforeAll(async () => {
  house = await openHouse();
  editor = await (await house.club()).as('editor');
  for (const part of given) {
    const added = await editor.post('/v1/parts', part);
    expect(added.status, added.text).toBe(201);
  }
  parts = (await editor.get('/v1/parts')).json<{ items: Part[] }>().items.map((part) => Part.parse(part));
  await editor.post('/v1/suppliers', { code: 'lane', name: 'Lane', country: 'GB', currency: 'GBP' });
});
afterAll(() => house.close());

interface Found {
  items: { item: { code: string }; score: number; why: { said: string; field: string; how: string }[] }[];
  found: number;
  next: string | null;
  facets: Record<string, { value: string; count: number }[]>;
  sameNumbers: { parts: string[] }[];
  told?: string;
}

const find = async (query: string) => {
  const answer = await editor.get(`/v1/parts?${query}`);
  expect(answer.status, answer.text).toBe(200);
  return answer.json<Found>();
};
const codes = async (q: string) =>
  (await find(`q=${encodeURIComponent(q)}`)).items.map(({ item }) => item.code);

/** A full look at every part, word by word. */
const lookedAt = (q: string) =>
  parts
    .flatMap((part) => {
      const best = bestOf(readingsOf(q, new Map()), wordsOfPart(part));
      return best ? [{ code: part.code, score: best.score }] : [];
    })
    .sort((a, b) => b.score - a.score || (a.code < b.code ? -1 : 1));

describe('a search of parts', () => {
  test.each([
    ['terminal ring', ['ring-6-15', 'eyelet-6']],
    ['lamps red', ['pvc-1.5-red']],
    ['headla', ['plug-2', 'boot-a']],
    ['adlam', ['plug-2', 'boot-a']],
    ['eyelte', ['eyelet-6']],
    ['bulet', ['bullet-47']],
    ['20417733', ['eyelet-6', 'ring-6-15']],
    ['2041 77-33', ['eyelet-6', 'ring-6-15']],
    ['WRENFIELD 20.41.77.33', ['eyelet-6', 'ring-6-15']],
    ['8113', ['ring-6-15']],
    ['t1430gw', ['thin-14-gw']],
    ['14/0.30 gw', ['thin-14-gw']],
    ['14 x 0.30 green/white', ['thin-14-gw']],
    ['1,5', ['pvc-1.5-red']],
    ['1.5 mm2', ['pvc-1.5-red']],
    ['16 awg', ['pvc-16']],
    ['thinwall', ['thin-14-gw']],
    ['4.7', ['bullet-47']],
    ['red headlamp', []],
  ])('finds by "%s"', async (q, expected) => {
    expect((await codes(q)).sort()).toEqual([...expected].sort());
  });

  test('finds what a full look at every part finds, in the same order', async () => {
    const words = [...new Set(parts.flatMap((part) => wordsOfPart(part).map(({ word }) => word)))].filter(
      (word) => !word.startsWith(':'),
    );
    const slipped = fc
      .tuple(fc.constantFrom(...words), fc.nat(9), fc.constantFrom('', 'x', 'e'))
      .map(([word, at, put]) => word.slice(0, at) + put + word.slice(at + 1));
    const part = fc
      .tuple(fc.constantFrom(...words), fc.nat(3), fc.integer({ min: 2, max: 9 }))
      .map(([word, from, length]) => word.slice(from, from + length));
    const word = fc.oneof(
      fc.constantFrom(...words),
      slipped,
      part,
      fc.constantFrom('gw', '14/0.30', '1,5', '16 awg', '20 41', '77-33', 'green/white', '6'),
    );
    await fc.assert(
      fc.asyncProperty(fc.array(word, { minLength: 1, maxLength: 3 }), async (all) => {
        const q = all.join(' ');
        fc.pre(/[a-z0-9]/.test(q));
        const { items } = await find(`q=${encodeURIComponent(q)}`);
        expect(items.map(({ item, score }) => ({ code: item.code, score }))).toEqual(lookedAt(q));
      }),
      { numRuns: 60 },
    );
  });

  test('says why each was found, and counts kinds, sizes and colours', async () => {
    const { items, facets } = await find('q=wire');
    expect(items[0]?.why).toMatchObject([{ said: 'wire', how: 'exact' }]);
    expect(facets['kind']).toEqual([{ value: 'wire', count: 3 }]);
    expect(facets['colour']).toContainEqual({ value: 'green/white', count: 1 });
    expect((await find('q=bulet')).items[0]?.why).toMatchObject([{ how: 'one slip' }]);
  });

  test('is narrowed by kind, size and colour', async () => {
    expect((await find('q=headlamp&kind=boot')).items.map(({ item }) => item.code)).toEqual(['boot-a']);
    expect((await find('size=16%20awg')).items.map(({ item }) => item.code)).toEqual(['pvc-16']);
    expect((await find('colour=gw')).items.map(({ item }) => item.code)).toEqual(['thin-14-gw']);
    expect((await editor.get('/v1/parts?kind=boot')).json<{ items: Part[] }>().items).toHaveLength(1);
  });

  test('goes on where the page before ended', async () => {
    const all = (await find('q=wire')).items.map(({ item }) => item.code);
    const paged: string[] = [];
    let cursor = '';
    do {
      const page = await find(`q=wire&limit=1${cursor}`);
      paged.push(...page.items.map(({ item }) => item.code));
      cursor = page.next === null ? '' : `&cursor=${page.next}`;
    } while (cursor !== '');
    expect(paged).toEqual(all);
  });

  test('takes the words of the club for each other', async () => {
    expect((await codes('tag')).length).toBe(0);
    const never = tag(await editor.get('/v1/synonyms'));
    const set = await editor.put('/v1/synonyms', { groups: [['Tag', 'ring']] }, never);
    expect(set.status, set.text).toBe(200);
    expect((await codes('tag')).sort()).toEqual(['eyelet-6', 'ring-6-15']);
    expect((await editor.get('/v1/synonyms')).json()).toEqual({ groups: [['tag', 'ring']] });
    expect((await editor.put('/v1/synonyms', { groups: [] }, never)).status).toBe(412);
    expect((await editor.put('/v1/synonyms', { groups: [] }, tag(set))).status).toBe(200);
  });

  test('points out parts with the same number', async () => {
    expect((await find('q=eyelet')).sameNumbers).toMatchObject([{ parts: ['eyelet-6', 'ring-6-15'] }]);
    const { items } = (await editor.get('/v1/parts/same-numbers')).json<{ items: unknown[] }>();
    expect(items).toMatchObject([{ parts: ['eyelet-6', 'ring-6-15'] }]);
  });

  test.each([
    ['only signs', '%$ --- ;;', 0],
    ['SQL', "'; drop table parts; --", 0],
    ['a quote and a percent sign', "%' or 1=1", 0],
  ])('finds nothing by %s', async (_name, q, found) => {
    const answer = await find(`q=${encodeURIComponent(q)}`);
    expect(answer.found).toBe(found);
  });

  test('says what is wrong with only signs', async () => {
    expect((await find(`q=${encodeURIComponent('?!')}`)).told).toMatch(/no word/);
  });

  test('refuses what is too long, and a size that is none', async () => {
    const words = Array.from({ length: 10_000 }, () => 'a').join('+');
    expect([414, 422, 431]).toContain((await editor.get(`/v1/parts?q=${words}`)).status);
    expect((await editor.get(`/v1/parts?q=${Array.from({ length: 40 }, () => 'a').join('+')}`)).status).toBe(
      422,
    );
    expect((await editor.get('/v1/parts?size=huge')).status).toBe(422);
    expect((await editor.get('/v1/parts?q=wire&cursor=abc')).status).toBe(422);
  });

  test('follows changes and removals', async () => {
    const body = { kind: 'consumable', code: 'flux', description: 'Rosin flux' };
    const added = await editor.post('/v1/parts', body);
    const changed = await editor.put(
      '/v1/parts/flux',
      { ...body, description: 'Solder paste' },
      { 'if-match': added.headers.get('etag') ?? '' },
    );
    expect(await codes('rosin')).toEqual([]);
    expect(await codes('paste')).toEqual(['flux']);
    await editor.delete('/v1/parts/flux', { 'if-match': changed.headers.get('etag') ?? '' });
    expect(await codes('paste')).toEqual([]);
  });
});

test('offers are found by their words, their supplier and the part that they sell', async () => {
  const offer = {
    code: 'ring-bag',
    supplier: 'lane',
    form: 'pack',
    part: 'ring-6-15',
    supplierCode: 'L 55-01',
    packCount: 10,
    packPrice: { amount: '3.00', currency: 'GBP' },
  };
  const added = await editor.post('/v1/offers', offer);
  expect(added.status, added.text).toBe(201);
  for (const query of [
    'q=l5501',
    'q=bag&supplier=lane',
    'q=ring&part=ring-6-15',
    'part=ring-6-15',
    'supplier=lane',
  ])
    expect((await editor.get(`/v1/offers?${query}`)).json<{ items: unknown[] }>().items, query).toHaveLength(
      1,
    );
  expect((await editor.get('/v1/offers?part=plug-2')).json<{ items: unknown[] }>().items).toEqual([]);
});
