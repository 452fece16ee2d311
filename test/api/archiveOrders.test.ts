import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ArchiveImport } from '../../api/routes/archive.ts';
import {
  archiveOf,
  contentOf,
  exported,
  linesOf,
  packed,
  restoredIn,
  sent,
  totals,
} from '../support/archives.ts';
import type { Client, Got } from '../support/client.ts';
import { gbp, loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

const OF_ORDERS = ['order', 'receipt', 'orderEntry', 'movement', 'reservation'];

interface Line {
  type: string;
  [field: string]: unknown;
}

let house: TestHouse;
let admin: Client;
let archive: Uint8Array;
let order: Order;
let quote: string;
let rest: string;
/** A club that the archive was read into. */
let other: Awaited<ReturnType<typeof restoredIn>>;

/** A club that ordered, had a part of it delivered, cut a length of that, threw a drawer away, and asked for the rest. */
beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
  const club = await house.club();
  admin = await club.as('admin');
  await loadSmall(admin);
  await admin.post('/v1/stock', { code: 'gone', form: 'pieces', part: 'ring-6', count: 3 });
  await admin.delete('/v1/stock/gone', { 'if-match': '*' });
  await admin.post('/v1/stock', { code: 'drawer', form: 'pieces', part: 'ring-6', count: 3 });
  await admin.post('/v1/stock/drawer/movements', { kind: 'counted', count: 2, reason: 'one was bent' });
  const settings = { besideSeconds: 0, offcutMinimumMm: 0 };
  quote = await quoted(admin, { useStock: false, settings });
  order = await sentOrder(admin, quote);
  const lines = [
    { line: lineOf(order, 'metre'), lengthsMm: [3000, 1000], over: true, place: 'rack' },
    { line: lineOf(order, 'pack'), faulty: 1 },
  ];
  const got = await came(admin, order, { number: 'D 1', note: 'by post', lines });
  expect(got.status, got.text).toBe(201);
  const said = async (what: string, body: object) =>
    expect((await admin.post(`/v1/orders/${order.id}/${what}`, body)).status).toBe(201);
  await said('returns', { line: lineOf(order, 'pack'), what: 'faulty', count: 1, postage: gbp('2.80') });
  await said('refunds', { refund: gbp('1.00'), fee: gbp('0.20'), number: 'CN 1' });
  await said('charges', { postage: gbp('3.10') });
  const wire =
    (await shelfOf(admin)).find((item) => item.form === 'length' && item.lengthMm === 3000)?.code ?? '';
  const cut = { kind: 'cut', piecesMm: [1000], quote };
  expect((await admin.post(`/v1/stock/${wire}/movements`, cut)).status).toBe(201);
  const asked = await admin.post(`/v1/quotes/${quote}/rest`, {});
  ({ id: rest } = asked.json<{ id: string }>());
  await admin.get(`${asked.json<{ task: string }>().task}/events`);
  archive = await exported(admin);
  other = await restoredIn(house, archive);
});
afterAll(() => house.close());

const said = (got: Got) => got.json<ArchiveImport>();
const entries = (): Line[] =>
  linesOf(archive)
    .slice(1, -1)
    .map((line) => JSON.parse(line) as Line);
const firstOf = (type: string): Line => entries().find((entry) => entry.type === type) as Line;
/** The archive with each entry as this makes it. */
const changed = (change: (entry: Line) => Line | Line[]) => packed(archiveOf(entries().flatMap(change)));
/** Keys stay behind, so that who did something is told by the id of the key. */
const known = (got: Got) => got.text.replaceAll(/"who":"[^"]*"/g, '"who":"somebody"');
/** The faults of an archive that is refused whole. */
async function faults(bytes: Uint8Array): Promise<{ where: string; found: string; todo: string }[]> {
  const { admin: client, got } = await restoredIn(house, bytes);
  expect(got.status, got.text).toBe(422);
  expect((await client.get('/v1/stock-movements')).json()).toEqual({ items: [], next: null });
  expect((await client.get('/v1/parts')).json()['items']).toEqual([]);
  return got.json<{ findings: { where: string; found: string; todo: string }[] }>().findings;
}

describe('a club that comes out of an archive', () => {
  test('has the orders with their steps and deliveries, the movements of the shelf, and what each quote is the rest of', async () => {
    expect([other.got.status, other.got.text]).toEqual([200, expect.stringContaining('"written":true')]);
    for (const path of [
      '/v1/orders',
      `/v1/orders/${order.id}`,
      `/v1/orders/${order.id}/receipts`,
      `/v1/orders/${order.id}/entries`,
      `/v1/orders/${order.id}/cost`,
      `/v1/orders/${order.id}/list`,
      '/v1/stock?limit=500',
      '/v1/stock-movements?limit=500',
      '/v1/stock/gone/movements',
      '/v1/stock-reservations',
      '/v1/stock-value',
      `/v1/quotes/${rest}/result`,
    ]) {
      const there = await admin.get(path);
      expect(there.status, path).toBe(200);
      expect(known(await other.admin.get(path)), path).toEqual(known(there));
    }
    expect((await other.admin.get(`/v1/quotes/${rest}`)).json()).toMatchObject({ restOf: quote });
  });

  test('is the same archive again, and a second import finds all of it the same', async () => {
    expect(contentOf(await exported(other.admin))).toEqual(contentOf(archive));
    const again = said(await sent(other.admin, archive));
    expect(totals(again)).toEqual({ new: 0, equal: entries().length, differs: 0 });
    expect(contentOf(await exported(other.admin))).toEqual(contentOf(archive));
  });

  test('goes on where it ended: with what is still to come, the next number of an order, and the next balance', async () => {
    const { admin: client } = await restoredIn(house, archive);
    const line = lineOf(order, 'pack');
    const twice = await came(client, order, { number: 'D 1', lines: [{ line, arrived: 1 }] });
    expect([twice.status, twice.text]).toEqual([409, expect.stringContaining('is entered already')]);
    const more = await came(client, order, { number: 'D 2', lines: [{ line, arrived: 1 }] });
    expect(more.json<{ order: Order }>().order.state).toBe('received');
    await client.post('/v1/stock/drawer/movements', { kind: 'found', count: 5 });
    expect((await client.get('/v1/stock/drawer/movements')).json()).toMatchObject({
      items: [
        { number: 3, kind: 'found', change: 5, balance: 7 },
        { number: 2, kind: 'counted', change: -1, balance: 2 },
        { number: 1, kind: 'found', change: 3, balance: 3 },
      ],
    });
    const next = await quoted(client, { useStock: false });
    expect((await sentOrder(client, next)).number).toBe(order.number + 1);
  });

  test('written before there were orders in archives has none, and its shelf begins with what was found', async () => {
    const { restOf: _none, ...without } = entries().find(({ id }) => id === rest) as Line;
    const older = changed((entry) =>
      OF_ORDERS.includes(entry.type) ? [] : entry.id === rest ? without : entry,
    );
    const { admin: client, got } = await restoredIn(house, older);
    expect(said(got).written).toBe(true);
    expect((await client.get('/v1/orders')).json()).toEqual({ items: [], next: null });
    expect((await client.get('/v1/stock/drawer/movements')).json()).toMatchObject({
      items: [{ number: 1, kind: 'found', change: 2, balance: 2 }],
    });
    expect((await client.get('/v1/stock/gone/movements')).status).toBe(404);
    // Everything of the shelf has a ledger then, and the counts are what these end with.
    for (const { code, count } of await shelfOf(client)) {
      const { items } = (await client.get(`/v1/stock/${code}/movements`)).json<{ items: object[] }>();
      expect(items).toMatchObject(count === 0 ? [] : [{ balance: count }]);
    }
  });
});

describe('an archive whose orders or movements cannot be is refused, with the line:', () => {
  test('an order of a quote that is not in it', async () => {
    const nobody = '01890000-0000-7000-8000-00000000000a';
    const [fault] = await faults(
      changed((entry) => (entry.type === 'order' ? { ...entry, quote: nobody } : entry)),
    );
    expect(fault).toMatchObject({
      where: expect.stringMatching(/^line \d+, quote$/) as string,
      found: `the quote ${nobody}`,
    });
  });

  test('an order in another state than its steps lead to, and one whose list is another supplier’s', async () => {
    const state = changed((entry) => (entry.type === 'order' ? { ...entry, state: 'closed' } : entry));
    expect(await faults(state)).toMatchObject([{ where: expect.stringContaining('state') as string }]);
    const list = changed((entry) => (entry.type === 'order' ? { ...entry, supplier: 'lane' } : entry));
    expect(await faults(list)).toMatchObject([{ where: expect.stringContaining('list') as string }]);
  });

  test('a delivery of a line that the order does not have, and one after another order', async () => {
    const receipt = firstOf('receipt') as Line & { body: { lines: object[] } };
    const lines = receipt.body.lines.map((line) => ({ ...line, line: 77 }));
    const wrong = changed((entry) =>
      entry.type === 'receipt' ? { ...entry, body: { ...receipt.body, lines } } : entry,
    );
    expect((await faults(wrong))[0]).toMatchObject({
      where: expect.stringMatching(/^line \d+, body, lines, number 1, line$/) as string,
      found: '77',
    });
    const alone = changed((entry) => (entry.type === 'order' ? [] : entry));
    expect((await faults(alone))[0]?.todo).toContain('must come after its order');
  });

  test('movements of which one is missing, and those that do not add up', async () => {
    const isSecond = ({ type, stock, number }: Line) =>
      type === 'movement' && stock === 'drawer' && number === 2;
    const first = (entry: Line) =>
      entry.type === 'movement' && entry['stock'] === 'drawer' && !isSecond(entry);
    expect((await faults(changed((entry) => (first(entry) ? [] : entry))))[0]?.todo).toBe(
      'Of the stock item drawer, movement 1 is next, not 2.',
    );
    const sum = await faults(changed((entry) => (isSecond(entry) ? { ...entry, change: -2 } : entry)));
    expect(sum[0]?.todo).toContain('must have the balance 1');
    const short = await faults(changed((entry) => (isSecond(entry) ? [] : entry)));
    expect(short).toMatchObject([{ found: '3', todo: expect.stringContaining('has the count 2') as string }]);
    const still = changed((entry) =>
      entry.type === 'movement' && entry['stock'] === 'gone' && entry['number'] === 2 ? [] : entry,
    );
    expect((await faults(still))[0]?.todo).toContain('the item is not there, so they end with 0');
  });

  test('a movement that names a quote, an order or an offcut that is not there', async () => {
    const nobody = '01890000-0000-7000-8000-00000000000a';
    for (const [field, name] of [
      ['quote', nobody],
      ['order', nobody],
      ['offcut', 'no-such'],
      ['cutFrom', 'no-such'],
    ] as const) {
      const wrong = changed((entry) => {
        const body = entry['body'] as Record<string, unknown>;
        if (entry.type !== 'movement' || body[field] === undefined) return entry;
        return { ...entry, body: { ...body, [field]: name } };
      });
      const [fault] = await faults(wrong);
      expect(fault?.where).toMatch(new RegExp(`^line \\d+, body, ${field}$`));
      expect(fault?.found).toContain(name);
    }
  });

  test('more that goes back than came, and what is kept of what is not there', async () => {
    const more = changed((entry) => {
      const body = entry['body'] as { kind?: string };
      return entry.type === 'orderEntry' && body.kind === 'return'
        ? { ...entry, body: { ...body, amount: 9 } }
        : entry;
    });
    expect((await faults(more))[0]).toMatchObject({
      where: expect.stringMatching(/^line \d+, body, amount$/) as string,
      found: '9',
    });
    const kept = (change: object) =>
      changed((entry) => (entry.type === 'reservation' ? { ...entry, ...change } : entry));
    expect((await faults(kept({ count: 9 })))[0]?.todo).toContain('only 1 can be kept');
    expect((await faults(kept({ stock: 'no-such' })))[0]?.found).toBe('the stock item no-such');
    const nobody = '01890000-0000-7000-8000-00000000000a';
    expect((await faults(kept({ quote: nobody })))[0]?.found).toBe(`the quote ${nobody}`);
  });

  test('a quote for the rest of one that is not in it', async () => {
    const nobody = '01890000-0000-7000-8000-00000000000a';
    const wrong = changed((entry) => (entry.id === rest ? { ...entry, restOf: nobody } : entry));
    expect(await faults(wrong)).toMatchObject([
      { where: expect.stringMatching(/^line \d+, restOf$/) as string },
    ]);
  });
});

test('a club that has another order of the same number keeps it, and is told which one differs', async () => {
  const without = changed((entry) => (OF_ORDERS.includes(entry.type) ? [] : entry));
  const { admin: client } = await restoredIn(house, without);
  const own = await sentOrder(client, await quoted(client, { useStock: false }));
  const got = await sent(client, archive, '?preview=true');
  expect(got.status, got.text).toBe(200);
  const { differing } = said(got);
  expect(differing.map(({ entry }) => entry)).toContain(`order 1 (${order.id})`);
  expect((await client.get(`/v1/orders/${own.id}`)).status).toBe(200);
});

test('movements that went on differently differ, and nothing is written', async () => {
  const { admin: client } = await restoredIn(house, archive);
  const { items } = (await client.get('/v1/stock/drawer/movements')).json<{ items: { at: string }[] }>();
  const later = changed((entry) =>
    entry.type === 'movement' && entry['stock'] === 'drawer' && entry['number'] === 2
      ? { ...entry, at: '2026-01-01T00:00:00.000Z' }
      : entry,
  );
  const got = await sent(client, later);
  expect([got.status, got.text]).toEqual([
    409,
    expect.stringContaining('movement 2 of the stock item drawer'),
  ]);
  expect((await client.get('/v1/stock/drawer/movements')).json()).toMatchObject({ items });
});
