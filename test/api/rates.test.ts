import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client, Got } from '../support/client.ts';
import { gbp, redWire, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let viewer: Client;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  viewer = await club.as('viewer');
  for (const part of [ring, redWire]) await editor.post('/v1/parts', part);
});
afterAll(() => house.close());

const tagOf = async (path: string) => ({ 'if-match': (await editor.get(path)).headers.get('etag') ?? '' });
const removed = async (path: string) => editor.delete(path, await tagOf(path));
const faults = (got: Got) =>
  got
    .json<{ findings: { at: string; code: string }[] }>()
    .findings.map(({ at, code }) => `${code} ${at}`)
    .sort();

const euro = { code: 'eur-nov', currency: 'EUR', on: '2026-11-02', rate: '0.8512' };
const inward = { code: 'de-gb', from: 'DE', to: 'GB' };
const laneDefaults = {
  taxPercent: 0,
  dutyPercent: 0,
  dutyOn: 'goodsAndPostage',
  valueIs: 'goods',
  exactlyThere: 'free',
  sellerTaxPercent: 0,
};
const rings = { code: 'rings', form: 'pieces', part: 'ring-6', count: 12 };

describe.each([
  { name: 'rates', sent: euro, stored: euro, changed: { rate: '0.86' } },
  {
    name: 'lanes',
    sent: { ...inward, taxPercent: 20, taxOverValue: gbp('135.00') },
    stored: { ...inward, ...laneDefaults, taxPercent: 20, taxOverValue: gbp('135.00') },
    changed: { exactlyThere: 'charged' },
  },
  { name: 'stock', sent: rings, stored: rings, changed: { count: 7 } },
])('an entry of $name', ({ name, sent, stored, changed }) => {
  const one = `/v1/${name}/${sent.code}`;

  test('is added, read back with its defaults, and found in the list', async () => {
    const added = await editor.post(`/v1/${name}`, sent);
    expect([added.status, added.headers.get('location')]).toEqual([201, one]);
    const read = await viewer.get(one);
    expect(read.json()).toEqual(stored);
    expect(read.headers.get('etag')).toBe(added.headers.get('etag'));
    expect((await viewer.get(`/v1/${name}`)).json()).toEqual({ items: [stored], next: null });
  });

  test('of a code in use is refused with 409, and the stored one stays', async () => {
    const again = await editor.post(`/v1/${name}`, { ...sent, note: 'Another' });
    expect([again.status, again.json()['detail']]).toEqual([409, expect.stringContaining(sent.code)]);
    expect((await viewer.get(one)).json()).toEqual(stored);
  });

  test('is replaced by whoever has read it last, and by nobody else, and keeps its code', async () => {
    const tag = await tagOf(one);
    const next = { ...sent, ...changed };
    expect((await editor.put(one, next)).status).toBe(428);
    expect((await editor.put(one, next, tag)).status).toBe(200);
    expect((await editor.put(one, sent, tag)).status).toBe(412);
    expect((await viewer.get(one)).json()).toEqual({ ...stored, ...changed });
    const other = await editor.put(one, { ...next, code: 'other' }, await tagOf(one));
    expect([other.status, faults(other)]).toEqual([422, ['code-differs /code']]);
  });

  test('is read by a viewer and written by an editor alone', async () => {
    const tag = await tagOf(one);
    for (const role of ['viewer', 'member'] as const) {
      const reader = await club.as(role);
      expect((await reader.get(one)).status).toBe(200);
      expect((await reader.post(`/v1/${name}`, { ...sent, code: 'mine' })).status).toBe(403);
      expect((await reader.put(one, sent, tag)).status).toBe(403);
      expect((await reader.delete(one, tag)).status).toBe(403);
    }
  });

  test('of another club is a 404, to read, to change and to remove', async () => {
    const theirs = await (await house.club()).as('editor');
    for (const part of [ring, redWire]) await theirs.post('/v1/parts', part);
    const tag = await tagOf(one);
    expect((await theirs.get(one)).status).toBe(404);
    expect((await theirs.put(one, sent, tag)).status).toBe(404);
    expect((await theirs.delete(one, tag)).status).toBe(404);
    expect((await theirs.get(`/v1/${name}`)).json()).toEqual({ items: [], next: null });
    // The same of their own is another entry.
    expect((await theirs.post(`/v1/${name}`, sent)).status).toBe(201);
    expect((await viewer.get(one)).json()).toEqual({ ...stored, ...changed });
  });

  test('is removed only with the ETag that was read, and then is gone and may be added anew', async () => {
    expect((await editor.delete(one)).status).toBe(428);
    expect((await editor.delete(one, { 'if-match': '"7-abc"' })).status).toBe(412);
    expect((await removed(one)).status).toBe(204);
    expect((await viewer.get(one)).status).toBe(404);
    expect((await editor.post(`/v1/${name}`, sent)).status).toBe(201);
  });
});

describe('a rate', () => {
  test('stands once for its currency and day: another code of both is a 409 that names the one there is', async () => {
    const same = await editor.post('/v1/rates', { ...euro, code: 'again', rate: '0.9' });
    expect([same.status, same.json()['detail']]).toEqual([
      409,
      expect.stringMatching(/EUR for 2026-11-02 already exists: eur-nov/),
    ]);
    expect((await viewer.get('/v1/rates/again')).status).toBe(404);
    expect((await editor.post('/v1/rates', { ...euro, code: 'next', on: '2026-11-03' })).status).toBe(201);
    expect((await editor.post('/v1/rates', { ...euro, code: 'us', currency: 'USD' })).status).toBe(201);
    const moved = await editor.put(
      '/v1/rates/next',
      { ...euro, code: 'next' },
      await tagOf('/v1/rates/next'),
    );
    expect([moved.status, moved.json()['detail']]).toEqual([409, expect.stringContaining('eur-nov')]);
    expect((await viewer.get('/v1/rates/next')).json()['on']).toBe('2026-11-03');
  });

  test('of one day asked for eight times at once is stored once, and the rest are told so', async () => {
    const codes = Array.from({ length: 8 }, (_none, at) => `race-${at}`);
    const got = await Promise.all(
      codes.map((code) => editor.post('/v1/rates', { ...euro, code, on: '2026-10-01' })),
    );
    expect(got.map(({ status }) => status).sort()).toEqual([201, ...codes.slice(1).map(() => 409)]);
    const { items } = (await viewer.get('/v1/rates?limit=500')).json<{ items: { on: string }[] }>();
    expect(items.filter(({ on }) => on === '2026-10-01')).toHaveLength(1);
  });

  test('entered while the club’s currency changes is never left with a currency that it was not entered for', async () => {
    for (let round = 0; round < 8; round++) {
      const own = await house.club();
      const admin = await own.as('admin');
      const tag = { 'if-match': (await admin.get('/v1/club')).headers.get('etag') ?? '' };
      // In pounds a euro has a rate; were the club's currency the euro, it would be one of its own.
      const [entered, changed] = await Promise.all([
        admin.post('/v1/rates', euro),
        admin.put('/v1/club', { currency: 'EUR', settings: {} }, tag),
      ]);
      const { currency } = (await admin.get('/v1/club')).json<{ currency: string }>();
      const { items } = (await admin.get('/v1/rates')).json<{ items: unknown[] }>();
      expect([
        [201, 409, 'GBP', 1],
        [409, 200, 'EUR', 0],
        [422, 200, 'EUR', 0],
      ]).toContainEqual([entered.status, changed.status, currency, items.length]);
    }
  });

  test('of the club’s own currency is refused at it, beside all its other faults, and by a change too', async () => {
    const own = { ...euro, code: 'own', currency: 'GBP' };
    const got = await editor.post('/v1/rates', own);
    expect([got.status, faults(got)]).toEqual([422, ['rate-of-own-currency /currency']]);
    const worse = await editor.post('/v1/rates', { ...own, rate: '0.00', day: 1 });
    expect(faults(worse)).toEqual([
      'not-valid /rate',
      'rate-of-own-currency /currency',
      'unknown-field /day',
    ]);
    expect((await viewer.get('/v1/rates/own')).status).toBe(404);
    const changed = await editor.put(
      '/v1/rates/eur-nov',
      { ...euro, currency: 'GBP' },
      await tagOf('/v1/rates/eur-nov'),
    );
    expect([changed.status, faults(changed)]).toEqual([422, ['rate-of-own-currency /currency']]);
  });

  test.each([
    ['a currency that is none', { currency: 'XQX' }, ['not-valid /currency']],
    ['a rate of nothing', { rate: '0' }, ['not-valid /rate']],
    ['a rate with nine decimals', { rate: '0.123456789' }, ['wrong-form /rate']],
    ['a rate as a number', { rate: 0.85 }, ['wrong-type /rate']],
    ['a day that is none', { on: '2026-02-30' }, ['wrong-form /on']],
  ])('with %s is refused at its pointer and not stored', async (_what, change, expected) => {
    const got = await editor.post('/v1/rates', { ...euro, code: 'bad', ...change });
    expect([got.status, faults(got)]).toEqual([422, expected]);
    expect((await viewer.get('/v1/rates/bad')).status).toBe(404);
  });
});

describe('a lane', () => {
  test('stands once from one country to another; the way back is another lane', async () => {
    const same = await editor.post('/v1/lanes', { ...inward, code: 'again' });
    expect([same.status, same.json()['detail']]).toEqual([
      409,
      expect.stringMatching(/from DE to GB already exists: de-gb/),
    ]);
    expect((await viewer.get('/v1/lanes/again')).status).toBe(404);
    const back = { code: 'gb-de', from: 'GB', to: 'DE' };
    expect((await editor.post('/v1/lanes', back)).status).toBe(201);
    const turned = await editor.put(
      '/v1/lanes/gb-de',
      { ...inward, code: 'gb-de' },
      await tagOf('/v1/lanes/gb-de'),
    );
    expect([turned.status, turned.json()['detail']]).toEqual([409, expect.stringContaining('de-gb')]);
    expect((await viewer.get('/v1/lanes/gb-de')).json()).toEqual({ ...back, ...laneDefaults });
  });

  test('within one country has a tax and nothing else: all that is more is refused at once', async () => {
    const home = { code: 'home', from: 'GB', to: 'GB', taxPercent: 20 };
    const got = await editor.post('/v1/lanes', {
      ...home,
      dutyPercent: 2,
      clearanceFee: gbp('8.00'),
      taxOverValue: gbp('135.00'),
    });
    expect([got.status, faults(got)]).toEqual([
      422,
      ['not-valid /clearanceFee', 'not-valid /dutyPercent', 'not-valid /taxOverValue'],
    ]);
    expect((await editor.post('/v1/lanes', home)).status).toBe(201);
  });
});

describe('what is in stock', () => {
  test('is of a part that is there: another is named beside all other faults', async () => {
    const got = await editor.post('/v1/stock', { ...rings, code: 'ghosts', part: 'ghost' });
    expect([got.status, faults(got)]).toEqual([422, ['unknown-part /part']]);
    const worse = await editor.post('/v1/stock', { ...rings, code: 'ghosts', part: 'ghost', count: -1 });
    expect(faults(worse)).toEqual(['too-small /count', 'unknown-part /part']);
    const moved = await editor.put(
      '/v1/stock/rings',
      { ...rings, part: 'ghost' },
      await tagOf('/v1/stock/rings'),
    );
    expect([moved.status, faults(moved)]).toEqual([422, ['unknown-part /part']]);
    expect((await viewer.get('/v1/stock')).json<{ items: unknown[] }>().items).toEqual([rings]);
  });

  test('may stand more than once for a part, in lengths too', async () => {
    for (const lengthMm of [900, 2500]) {
      const item = { code: `red-${lengthMm}`, form: 'length', part: 'wire-red', count: 2, lengthMm };
      const added = await editor.post('/v1/stock', item);
      expect([added.status, added.json()]).toEqual([201, item]);
    }
  });

  test('keeps its part from being removed or becoming of another kind, until it is of another part', async () => {
    const boot = { kind: 'boot', code: 'boot', description: 'Boot' };
    await editor.post('/v1/parts', boot);
    const item = { code: 'jar', form: 'pieces', part: 'boot', count: 40 };
    await editor.post('/v1/stock', item);
    const gone = await removed('/v1/parts/boot');
    expect([gone.status, gone.json()['detail']]).toEqual([409, expect.stringContaining('in stock')]);
    const other = await editor.put(
      '/v1/parts/boot',
      { ...boot, kind: 'cover' },
      await tagOf('/v1/parts/boot'),
    );
    expect([other.status, other.json()['detail']]).toEqual([409, expect.stringContaining('a stock item')]);
    const emptied = await editor.put(
      '/v1/stock/jar',
      { ...item, part: 'ring-6' },
      await tagOf('/v1/stock/jar'),
    );
    expect(emptied.status).toBe(200);
    expect((await removed('/v1/parts/boot')).status).toBe(204);
  });
});
