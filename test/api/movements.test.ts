import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { stock, stockMovements } from '../../db/schema/index.ts';
import type { Movement } from '../../worker/engine/model/movement.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client, Got } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import { came, lineOf, quoted, sentOrder } from '../support/ordering.ts';

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

let made = 0;
const pieces = async (count: number, more: object = {}) => {
  const item = { code: `drawer-${++made}`, form: 'pieces', part: 'ring-6', count, ...more };
  expect((await editor.post('/v1/stock', item)).status).toBe(201);
  return item.code;
};
const lengths = async (count: number, lengthMm: number, more: object = {}) => {
  const item = { code: `hank-${++made}x`, form: 'length', part: 'wire-red', count, lengthMm, ...more };
  const got = await editor.post('/v1/stock', item);
  expect(got.status, got.text).toBe(201);
  return item.code;
};
const moved = (code: string, body: object, client = editor) =>
  client.post(`/v1/stock/${code}/movements`, body);
const ledger = async (code: string) =>
  (await editor.get(`/v1/stock/${code}/movements?limit=500`)).json<{ items: Movement[] }>().items.reverse();
const item = async (code: string) => (await editor.get(`/v1/stock/${code}`)).json<StockItem>();
const findings = (got: Got) => got.json<{ findings: { code: string; todo: string }[] }>().findings;

describe('a stock item', () => {
  test('begins with what was found, and every change of its count is a movement with who and when', async () => {
    const code = await pieces(4);
    await moved(code, { kind: 'used', count: 3 });
    await moved(code, { kind: 'counted', count: 2, reason: 'one lay under the bench' });
    await moved(code, { kind: 'moved', place: 'second drawer' });
    expect((await item(code)).count).toBe(2);
    expect((await item(code)).place).toBe('second drawer');
    const rows = await ledger(code);
    expect(rows.map(({ number, kind, change, balance }) => [number, kind, change, balance])).toEqual([
      [1, 'found', 4, 4],
      [2, 'used', -3, 1],
      [3, 'counted', 1, 2],
      [4, 'moved', 0, 2],
    ]);
    expect(rows[2]).toMatchObject({
      reason: 'one lay under the bench',
      part: 'ring-6',
      who: expect.stringMatching(/./) as string,
    });
  });

  test('that is sent anew with another count has a movement for the difference', async () => {
    const code = await pieces(4);
    const got = await editor.get(`/v1/stock/${code}`);
    const body = { ...got.json<StockItem>(), count: 9 };
    await editor.put(`/v1/stock/${code}`, body, { 'if-match': got.headers.get('etag') ?? '' });
    expect((await ledger(code)).map(({ kind, change }) => [kind, change])).toEqual([
      ['found', 4],
      ['counted', 5],
    ]);
  });

  test('that is removed keeps its ledger, which goes on where the code is used again', async () => {
    const code = await pieces(4);
    await editor.delete(`/v1/stock/${code}`, { 'if-match': '*' });
    expect((await ledger(code)).map(({ kind, balance }) => [kind, balance])).toEqual([
      ['found', 4],
      ['lost', 0],
    ]);
    await editor.post('/v1/stock', { code, form: 'pieces', part: 'ring-6', count: 1 });
    expect((await ledger(code)).at(-1)).toMatchObject({ number: 3, change: 1, balance: 1 });
  });

  test('cannot lose more than there is, and nothing is stored then', async () => {
    const code = await pieces(4);
    const got = await moved(code, { kind: 'lost', count: 5, reason: 'fell' });
    expect(got.status).toBe(422);
    expect(findings(got)).toMatchObject([{ code: 'not-so-many' }]);
    expect(await ledger(code)).toHaveLength(1);
  });

  test('is not used for a quote that is not there, or is another club’s', async () => {
    const code = await pieces(4);
    const other = await house.club();
    await loadSmall(await other.as('editor'));
    const theirs = await (
      await other.as('editor')
    ).post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
    for (const quote of ['01890000-0000-7000-8000-000000000000', theirs.json<{ id: string }>().id]) {
      const got = await moved(code, { kind: 'used', quote });
      expect([got.status, findings(got)]).toMatchObject([422, [{ code: 'unknown-quote' }]]);
    }
    expect(await ledger(code)).toHaveLength(1);
  });

  test.each([
    { kind: 'found', count: 0 },
    { kind: 'lost', count: 1 },
    { kind: 'used', count: -1 },
    { kind: 'counted', count: -1, reason: 'x' },
    { kind: 'cut', piecesMm: [] },
    { kind: 'eaten' },
    {},
  ])('is not moved by %j', async (body) => {
    expect((await moved(await pieces(4), body)).status).toBe(422);
  });

  test('is moved by its owner and by editors alone', async () => {
    const ada = await club.joined('member', 'Ada of the shelf');
    const ben = await club.joined('member', 'Ben of the shelf');
    const body = { code: 'of-ada', form: 'pieces', part: 'ring-6', count: 2 };
    expect((await ada.client.post('/v1/stock', body)).status).toBe(201);
    expect((await moved('of-ada', { kind: 'used' }, ben.client)).status).toBe(403);
    expect((await moved('of-ada', { kind: 'used' }, ada.client)).status).toBe(201);
    expect((await item('of-ada')).count).toBe(1);
  });
});

describe('a length on the shelf', () => {
  test('that is cut leaves an item of the true length with the drawer and the owner of the first', async () => {
    const code = await lengths(1, 5000, { place: 'top shelf' });
    const got = await moved(code, { kind: 'cut', piecesMm: [1200, 600] });
    expect(got.status, got.text).toBe(201);
    const { offcut } = got.json<{ offcut: StockItem }>();
    expect(offcut).toMatchObject({ code: `${code}-3200`, lengthMm: 3200, count: 1, place: 'top shelf' });
    expect(await item(code)).toMatchObject({ count: 0 });
    expect(await ledger(offcut.code)).toMatchObject([{ kind: 'offcut', change: 1, cutFrom: code }]);
  });

  test('adds its offcut to one that is alike, and to no other', async () => {
    const code = await lengths(3, 5000);
    await moved(code, { kind: 'cut', piecesMm: [1000] });
    await moved(code, { kind: 'cut', piecesMm: [1000] });
    expect(await item(`${code}-4000`)).toMatchObject({ count: 2 });
    await moved(`${code}-4000`, { kind: 'moved', place: 'shed' });
    const got = await moved(code, { kind: 'cut', piecesMm: [1000] });
    expect(got.json<{ offcut: StockItem }>().offcut).toMatchObject({ code: `${code}-4000.2`, count: 1 });
  });

  test('drops what is shorter than the length worth keeping, and says so', async () => {
    const code = await lengths(1, 5000);
    const got = await moved(code, { kind: 'cut', piecesMm: [4990] });
    expect(got.json()).toMatchObject({ droppedMm: 10 });
    expect(got.json()).not.toHaveProperty('offcut');
  });

  test('is not cut longer than one piece of it is', async () => {
    const code = await lengths(4, 3200);
    const got = await moved(code, { kind: 'cut', piecesMm: [3201] });
    expect(got.status).toBe(422);
    expect(findings(got)).toMatchObject([{ code: 'cut-too-long' }]);
  });
});

test('the ledger of all items is listed newest first, and by item and kind', async () => {
  const code = await pieces(4);
  await moved(code, { kind: 'used' });
  const all = (await editor.get('/v1/stock-movements?limit=2')).json<{ items: Movement[] }>().items;
  expect(all.map(({ stock: of, kind }) => [of, kind])).toEqual([
    [code, 'used'],
    [code, 'found'],
  ]);
  const some = await editor.get(`/v1/stock-movements?stock=${code}&kind=found`);
  expect(some.json<{ items: Movement[] }>().items).toMatchObject([{ kind: 'found', change: 4 }]);
  expect((await editor.get('/v1/stock/no-such/movements')).status).toBe(404);
});

test('no row of the ledger can be changed or removed', async () => {
  const code = await pieces(4);
  for (const rewrite of [
    () => club.run((ctx) => ctx.tx.update(stockMovements).set({ change: 5 })),
    () => club.run((ctx) => ctx.tx.delete(stockMovements)),
  ])
    await expect(rewrite()).rejects.toThrow();
  expect(await ledger(code)).toHaveLength(1);
});

/** Every item’s count is what its movements add up to, and no balance was ever below nothing. */
async function requireBooksInOrder() {
  const { items, rows } = await club.run(async (ctx) => ({
    items: await ctx.tx.select().from(stock),
    rows: await ctx.tx.select().from(stockMovements).orderBy(stockMovements.stockCode, stockMovements.number),
  }));
  const sums = new Map<string, { sum: number; number: number }>();
  for (const { stockCode, number, change, balance } of rows) {
    const before = sums.get(stockCode) ?? { sum: 0, number: 0 };
    expect([stockCode, number]).toEqual([stockCode, before.number + 1]);
    expect(balance).toBe(before.sum + change);
    expect(balance).toBeGreaterThanOrEqual(0);
    sums.set(stockCode, { sum: balance, number });
  }
  for (const { code, body } of items) expect([code, body.count]).toEqual([code, sums.get(code)?.sum ?? 0]);
}

const anyMovement = fc.oneof(
  fc.record({ kind: fc.constantFrom('found', 'used'), count: fc.integer({ min: 1, max: 3 }) }),
  fc.record({
    kind: fc.constant('lost'),
    count: fc.integer({ min: 1, max: 3 }),
    reason: fc.constant('gone'),
  }),
  fc.record({
    kind: fc.constant('counted'),
    count: fc.integer({ min: 0, max: 5 }),
    reason: fc.constant('seen'),
  }),
  fc.record({
    kind: fc.constant('cut'),
    piecesMm: fc.array(fc.integer({ min: 100, max: 2000 }), { minLength: 1, maxLength: 3 }),
  }),
);

test('after any movements the counts are what the ledger adds up to', async () => {
  const codes = [await pieces(3), await lengths(2, 3000)];
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(fc.constantFrom(...codes), anyMovement), { maxLength: 6 }),
      async (all) => {
        for (const [code, body] of all) expect([201, 422]).toContain((await moved(code, body)).status);
        await requireBooksInOrder();
      },
    ),
    { numRuns: 15 },
  );
});

const service = testOnlyIn(
  'service',
  'PGlite has one connection, so that no two requests are under way at once',
);

service('four clients at once take no more than there is', async () => {
  const code = await pieces(20);
  const hank = await lengths(5, 3000);
  const answers = await Promise.all(
    Array.from({ length: 40 }, (_, at) =>
      at % 2 === 0 ? moved(code, { kind: 'used' }) : moved(hank, { kind: 'cut', piecesMm: [900] }),
    ),
  );
  expect(answers.filter(({ status }) => status === 201)).toHaveLength(20 + 5);
  expect(await item(code)).toMatchObject({ count: 0 });
  expect(await item(`${hank}-2100`)).toMatchObject({ count: 5 });
  await requireBooksInOrder();
});

describe('the value of the shelf', () => {
  test('is what was paid for the goods, and goes with what is taken and cut', async () => {
    const ours = await (await house.club()).as('editor');
    await loadSmall(ours);
    await house.startWorker();
    const order = await sentOrder(ours, await quoted(ours));
    const [pack, metre] = [lineOf(order, 'pack'), lineOf(order, 'metre')];
    await came(ours, order, {
      lines: [
        { line: pack, arrived: 1, paid: { amount: '2.50', currency: 'GBP' } },
        { line: metre, lengthsMm: [1000], paid: { amount: '1.00', currency: 'GBP' } },
      ],
    });
    await ours.post('/v1/stock', { code: 'found', form: 'pieces', part: 'ring-6', count: 7 });
    const value = async () =>
      (await ours.get('/v1/stock-value')).json<{
        total: { amount: string };
        items: { stock: string; part: string; worth?: { amount: string } }[];
      }>();
    const of = async (part: string) =>
      (await value()).items.filter((one) => one.part === part).map(({ worth }) => worth?.amount);
    expect((await value()).total.amount).toBe('3.50');
    expect((await of('ring-6')).sort()).toEqual(['2.50', undefined]);
    const { quote } = (await ours.get(`/v1/orders/${order.id}`)).json<{ quote: string }>();
    const [wire] = (await value()).items.filter(({ part }) => part === 'wire-red');
    // 400 mm of 1000 are cut: the offcut has 60 %.
    await ours.post(`/v1/stock/${wire?.stock}/movements`, { kind: 'cut', piecesMm: [400], quote });
    expect(await of('wire-red')).toEqual(['0.60']);
    const rings = (await value()).items.find(({ part, worth }) => part === 'ring-6' && worth);
    await ours.post(`/v1/stock/${rings?.stock}/movements`, { kind: 'used', count: 3, quote });
    // 7 of 10 are left of 2.50.
    expect((await of('ring-6')).sort()).toEqual(['1.75', undefined]);
    expect((await value()).total.amount).toBe('2.35');
    await ours.delete(`/v1/stock/${rings?.stock}`, { 'if-match': '*' });
    expect((await value()).total.amount).toBe('0.60');
  });
});
