import { eq } from 'drizzle-orm';
import { describe, expect, test } from 'vitest';
import { orderSteps, quotes, receipts } from '../../db/schema/index.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client, Got } from '../support/client.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import { gbp, ringOffer } from '../support/fixtures.ts';
import type { TestClub, TestMember } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

let club: TestClub;
let editor: Client;
let ada: TestMember;
inFreshClubs(async (fresh) => {
  ({ club, editor } = fresh);
  ada = await club.joined('member', 'Ada');
});

const accept = (quote: string, body: object = {}, client = editor) =>
  client.post(`/v1/quotes/${quote}/accept`, body);
const detail = (got: Got) => got.json<{ detail: string }>().detail;
/** Refused with 409 and these words. */
const requireRefused = (got: Got, words: string) => {
  expect([got.status, detail(got)]).toEqual([409, expect.stringContaining(words)]);
};

/** An order that was sent. */
const sent = async (client = editor) => sentOrder(client, await quoted(client));
const read = async ({ id }: Order) => (await editor.get(`/v1/orders/${id}`)).json<Order>();

describe('accepting a quote', () => {
  test('makes an order of each order list, as it was, with who and when', async () => {
    const quote = await quoted(editor);
    const got = await accept(quote);
    const [order] = got.json<{ items: Order[] }>().items;
    const result = (await editor.get(`/v1/quotes/${quote}/result`)).json<Result>();
    expect(order).toMatchObject({ number: 1, state: 'draft', list: result.orderLists[0] });
    expect(order?.steps).toMatchObject([{ state: 'draft' }]);
    expect(order?.lines.map(({ ordered, outstanding }) => ordered === outstanding)).toEqual([true, true]);
  });

  test('is refused where an offer has changed since, with what it was, what it is, and what to do', async () => {
    const quote = await quoted(editor);
    const offer = await editor.get('/v1/offers/ring-pack');
    const tag = { 'if-match': offer.headers.get('etag') ?? '' };
    await editor.put('/v1/offers/ring-pack', { ...ringOffer, packPrice: gbp('2.60') }, tag);
    const got = await accept(quote);
    requireRefused(got, 'Offers have changed since this quote');
    expect(detail(got)).toContain('ring-pack was 2.00 and is 2.60');
    expect((await editor.get('/v1/orders')).json()).toEqual({ items: [], next: null });

    const again = await editor.post(`/v1/quotes/${quote}/again`, undefined);
    expect(again.status, again.text).toBe(202);
    const { id, task } = again.json<{ id: string; task: string }>();
    await editor.get(`${task}/events`);
    expect((await accept(id)).status).toBe(201);
  });

  test('is refused where the pack is another at the same price', async () => {
    const quote = await quoted(editor);
    const offer = await editor.get('/v1/offers/ring-pack');
    const tag = { 'if-match': offer.headers.get('etag') ?? '' };
    await editor.put('/v1/offers/ring-pack', { ...ringOffer, packCount: 12 }, tag);
    requireRefused(await accept(quote), 'ring-pack was 2.00 and is 2.00 for another pack');
  });

  test('keeps the rate of the quote, also where another one is stored since', async () => {
    await editor.post('/v1/suppliers', { code: 'rhein', name: 'Rhein', currency: 'EUR' });
    await editor.post('/v1/rates', { code: 'then', currency: 'EUR', on: '2026-11-02', rate: '0.85' });
    const cheap = { ...ringOffer, code: 'ring-rhein', supplier: 'rhein' };
    await editor.post('/v1/offers', { ...cheap, packPrice: { amount: '1.00', currency: 'EUR' } });
    const quote = await quoted(editor);
    await editor.post('/v1/rates', { code: 'now', currency: 'EUR', on: '2026-11-20', rate: '0.99' });
    const got = await accept(quote, { suppliers: ['rhein'] });
    expect(got.status, got.text).toBe(201);
    expect(got.json<{ items: Order[] }>().items).toMatchObject([{ list: { theirs: { rate: '0.85' } } }]);
  });

  test('is refused a second time, naming the order that there is', async () => {
    const quote = await quoted(editor);
    await accept(quote);
    const got = await accept(quote);
    requireRefused(got, 'Order 1 from shop is there already');
  });

  test('takes the suppliers that are named, and says of whom the quote orders', async () => {
    const quote = await quoted(editor);
    const got = await accept(quote, { suppliers: ['lane'] });
    expect(got.status).toBe(422);
    expect(got.text).toContain('The quote orders from shop');
    expect((await accept(quote, { suppliers: ['shop'] })).status).toBe(201);
  });

  test('is for the owner of the quote and for editors', async () => {
    expect((await accept(await quoted(editor), {}, ada.client)).status).toBe(403);
    expect((await accept(await quoted(ada.client), {}, ada.client)).status).toBe(201);
  });

  test('of a quote that is not ready is refused', async () => {
    const quote = await quoted(editor);
    await club.run(({ tx }) =>
      tx.update(quotes).set({ job: null, jobHash: null, result: null }).where(eq(quotes.id, quote)),
    );
    expect((await accept(quote)).status).toBe(409);
    expect((await editor.get('/v1/orders')).json()).toEqual({ items: [], next: null });
  });
});

describe('an order', () => {
  test('goes from draft to sent to received to closed, and each step has who and when', async () => {
    const order = await sent();
    const lines = [
      { line: lineOf(order, 'pack'), arrived: 1 },
      { line: lineOf(order, 'metre'), lengthsMm: [order.lines[lineOf(order, 'metre') - 1]?.ordered] },
    ];
    const got = await came(editor, order, { number: 'D 1', lines, note: 'by post' });
    expect(got.status, got.text).toBe(201);
    expect(got.json<{ order: Order }>().order.state).toBe('received');
    const closed = await editor.post(`/v1/orders/${order.id}/steps`, { to: 'closed', note: 'all there' });
    expect(closed.json<Order>().steps).toMatchObject([
      { state: 'draft' },
      { state: 'sent' },
      { state: 'received' },
      { state: 'closed', note: 'all there' },
    ]);
    const listed = await editor.get('/v1/orders?state=closed');
    expect(listed.json<{ items: Order[] }>().items).toMatchObject([{ id: order.id, number: 1 }]);
  });

  test('takes no step that does not follow', async () => {
    const order = await sent();
    await editor.post(`/v1/orders/${order.id}/steps`, { to: 'cancelled' });
    for (const to of ['sent', 'closed', 'cancelled']) {
      const got = await editor.post(`/v1/orders/${order.id}/steps`, { to });
      requireRefused(got, 'Order 1 is cancelled');
    }
    const late = await came(editor, order, { lines: [{ line: 1, arrived: 1 }] });
    requireRefused(late, 'Order 1 is cancelled');
  });

  test('is not closed while something is still to come, unless that is given up', async () => {
    const order = await sent();
    await came(editor, order, { lines: [{ line: lineOf(order, 'pack'), arrived: 1 }] });
    const got = await editor.post(`/v1/orders/${order.id}/steps`, { to: 'closed' });
    requireRefused(got, 'something is still to come on line');
    const given = await editor.post(`/v1/orders/${order.id}/steps`, { to: 'closed', openLines: 'givenUp' });
    expect(given.json<Order>().state).toBe('closed');
  });

  test('keeps the supplier’s number and a note, by version', async () => {
    const order = await sent();
    const path = `/v1/orders/${order.id}`;
    const tag = { 'if-match': (await editor.get(path)).headers.get('etag') ?? '' };
    const body = { supplierNumber: 'SO-77', note: 'rang them' };
    expect((await editor.put(path, body, tag)).json()).toMatchObject(body);
    expect((await editor.put(path, body, tag)).status).toBe(412);
  });

  test('is printed as its order list was, also after the offers have changed', async () => {
    const order = await sent();
    expect((await editor.get(`/v1/orders/${order.id}/list`)).json()).toEqual(order.list);
    expect((await editor.get(`/v1/orders/${order.id}/list?format=html`)).text).toContain('Order list: ');
    expect((await editor.get(`/v1/orders/${order.id}/list?format=csv`)).text).toContain(
      'Ring for a 6 mm stud',
    );
  });
});

describe('what arrives', () => {
  test('goes on the shelf: pieces as a count, and what is bought by the metre as the lengths that came', async () => {
    const order = await sent();
    const metre = lineOf(order, 'metre');
    const got = await came(editor, order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1, place: 'first drawer' },
        { line: metre, lengthsMm: [400, 100] },
      ],
    });
    expect(got.json<{ shelved: StockItem[] }>().shelved).toMatchObject([
      { form: 'pieces', part: 'ring-6', count: 10, place: 'first drawer' },
      { form: 'length', part: 'wire-red', lengthMm: 400, count: 1 },
      { form: 'length', part: 'wire-red', lengthMm: 100, count: 1 },
    ]);
    const movements = (await editor.get('/v1/stock-movements')).json<{ items: object[] }>().items;
    expect(movements).toHaveLength(3);
    expect(movements[0]).toMatchObject({ kind: 'received', order: order.id, line: metre });
  });

  test('in two deliveries is one item, and the order waits for the rest', async () => {
    const order = await sent();
    const line = lineOf(order, 'metre');
    await came(editor, order, { lines: [{ line, lengthsMm: [100] }] });
    expect((await read(order)).state).toBe('partReceived');
    await came(editor, order, { lines: [{ line, lengthsMm: [100] }] });
    expect(await shelfOf(editor)).toMatchObject([{ lengthMm: 100, count: 2 }]);
  });

  test('and is faulty is still to come, and not on the shelf', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    await came(editor, order, { lines: [{ line, faulty: 1 }] });
    expect((await read(order)).lines[line - 1]).toMatchObject({ faulty: 1, outstanding: 1 });
    expect(await shelfOf(editor)).toEqual([]);
  });

  test('twice with the same number of the supplier is entered once', async () => {
    const order = await sent();
    const body = { number: 'D 9', lines: [{ line: lineOf(order, 'metre'), lengthsMm: [100] }] };
    await came(editor, order, body);
    const got = await came(editor, order, body);
    requireRefused(got, 'is entered already');
    expect(await shelfOf(editor)).toMatchObject([{ count: 1 }]);
  });

  test('twice with the same Idempotency-Key is entered once', async () => {
    const order = await sent();
    const body = { lines: [{ line: lineOf(order, 'metre'), lengthsMm: [100] }] };
    const send = () =>
      editor.post(`/v1/orders/${order.id}/receipts`, body, { 'idempotency-key': 'delivery' });
    const first = await send();
    expect((await send()).text).toBe(first.text);
    expect(await shelfOf(editor)).toMatchObject([{ count: 1 }]);
  });

  test('cannot be more than was ordered unless that is said, and nothing is stored then', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    const got = await came(editor, order, {
      lines: [
        { line, arrived: 2 },
        { line: 99, arrived: 1 },
      ],
    });
    expect(got.status).toBe(422);
    expect(got.json<{ findings: object[] }>().findings).toMatchObject([
      { code: 'more-than-ordered', limit: '1' },
      { code: 'unknown-line' },
    ]);
    expect(await shelfOf(editor)).toEqual([]);
    expect((await came(editor, order, { lines: [{ line, arrived: 2, over: true }] })).status).toBe(201);
    expect(await shelfOf(editor)).toMatchObject([{ count: 20 }]);
  });

  test.each([
    { lines: [] },
    { lines: [{ line: 1, arrived: -1 }] },
    { lines: [{ line: 0, arrived: 1 }] },
    { lines: [{ line: 1, arrived: 1, paid: { amount: '-1', currency: 'GBP' } }] },
  ])('is not %j', async (body) => {
    expect((await came(editor, await sent(), body)).status).toBe(422);
  });

  test('of an order that was not sent is refused', async () => {
    const [order] = (await accept(await quoted(editor))).json<{ items: Order[] }>().items;
    const got = await came(editor, order as Order, { lines: [{ line: 1, arrived: 1 }] });
    requireRefused(got, 'Order 1 is a draft');
  });

  test('of a member’s order is the member’s', async () => {
    const order = await sent(ada.client);
    await came(ada.client, order, { lines: [{ line: lineOf(order, 'pack'), arrived: 1 }] });
    expect(await shelfOf(editor)).toMatchObject([{ owner: 'Ada', count: 10 }]);
  });

  test('costs what was charged, against what the quote said', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    await came(editor, order, { lines: [{ line, arrived: 1, paid: gbp('2.40') }] });
    const { lines } = (await editor.get(`/v1/orders/${order.id}/cost`)).json<{ lines: object[] }>();
    expect(lines[line - 1]).toEqual({
      line,
      quoted: gbp('2.00'),
      expected: gbp('2.00'),
      paid: gbp('2.40'),
      difference: gbp('0.40'),
    });
  });

  test('gives the offer the price that was charged, if you say so', async () => {
    const [first, second] = [await sent(), await sent()];
    const said = (order: Order, more: object) => ({
      line: lineOf(order, 'pack'),
      arrived: 1,
      paid: gbp('2.40'),
      ...more,
    });
    const offer = async () => (await editor.get('/v1/offers/ring-pack')).json();
    const before = await offer();
    await came(editor, first, { day: '2026-11-20', lines: [said(first, {})] });
    expect(await offer()).toEqual(before);
    const update = { updateOffer: true };
    const got = await came(editor, second, { day: '2026-11-20', lines: [said(second, update)] });
    expect(got.status, got.text).toBe(201);
    expect(await offer()).toMatchObject({ packPrice: gbp('2.40'), seenOn: '2026-11-20' });
    // Of an offer that is gone nothing is changed, and nothing of the delivery is stored.
    const third = await sentOrder(editor, await quoted(editor, { useStock: false }));
    await editor.delete('/v1/offers/ring-pack', { 'if-match': '*' });
    const gone = await came(editor, third, { lines: [said(third, update)] });
    expect([gone.status, gone.text]).toEqual([422, expect.stringContaining('it is gone')]);
    expect((await editor.get(`/v1/orders/${third.id}/receipts`)).json()).toEqual({ items: [] });
  });

  test('is used by the next quote once it is let go, so that nothing is bought again', async () => {
    const order = await sent();
    const metre = lineOf(order, 'metre');
    const ordered = order.lines[metre - 1]?.ordered ?? 0;
    await came(editor, order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1 },
        { line: metre, lengthsMm: [ordered] },
      ],
    });
    const next = async () => (await editor.get(`/v1/quotes/${await quoted(editor)}/result`)).json<Result>();
    // While it is kept for the quote that ordered it, the next one buys its own wire.
    expect((await next()).purchases.map(({ part }) => part)).toEqual(['wire-red']);
    const { quote } = (await editor.get(`/v1/orders/${order.id}`)).json<{ quote: string }>();
    await editor.post(`/v1/quotes/${quote}/release`, {});
    const result = await next();
    expect(result.purchases).toEqual([]);
    expect(result.fromStock).toHaveLength(2);
  });
});

test('what hangs on an order that a member hides is seen by nobody else, and no row of it is changed', async () => {
  const order = await sent(ada.client);
  await came(ada.client, order, { lines: [{ line: 1, notComing: 1 }] });
  const { quote } = (await ada.client.get(`/v1/orders/${order.id}`)).json<{ quote: string }>();
  await ada.client.put(`/v1/quotes/${quote}/seen-by`, { seenBy: 'owner' });
  expect((await editor.get(`/v1/orders/${order.id}`)).status).toBe(404);
  expect((await editor.get('/v1/orders')).json()).toEqual({ items: [], next: null });
  expect((await ada.client.get(`/v1/orders/${order.id}`)).status).toBe(200);
  for (const table of [receipts, orderSteps])
    await expect(club.run((ctx) => ctx.tx.delete(table))).rejects.toThrow();
});

const service = testOnlyIn(
  'service',
  'PGlite has one connection, so that no two requests are under way at once',
);

service('of several who accept the same at once one wins, and the others lose nothing', async () => {
  const quote = await quoted(editor);
  const answers = await Promise.all(Array.from({ length: 4 }, () => accept(quote)));
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409]);
  expect((await editor.get('/v1/orders')).json<{ items: object[] }>().items).toHaveLength(1);
});
