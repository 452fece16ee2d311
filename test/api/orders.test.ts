import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { orderSteps, receipts } from '../../db/schema/index.ts';
import type { OrderLineState } from '../../worker/engine/model/order.ts';
import type { OrderList, Result } from '../../worker/engine/model/result.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client, Got } from '../support/client.ts';
import { gbp, loadSmall, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse, type TestMember } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';

interface Order {
  id: string;
  number: number;
  state: string;
  supplierNumber?: string;
  steps: { state: string; at: string; who: string; note?: string }[];
  lines: OrderLineState[];
  list: OrderList;
}

let house: TestHouse;
let club: TestClub;
let editor: Client;
let ada: TestMember;
beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());
beforeEach(async () => {
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  ada = await club.joined('member', 'Ada');
});

/** The id of a finished quote of one loom. */
async function quoted(client = editor): Promise<string> {
  const asked = await client.post('/v1/quotes', {
    looms: [{ loom: 'loom', quantity: 1 }],
    settings: { besideSeconds: 0 },
  });
  const { id, task } = asked.json<{ id: string; task: string }>();
  // The stream ends with the task.
  await client.get(`${task}/events`);
  return id;
}

const accept = (quote: string, body: object = {}, client = editor) =>
  client.post(`/v1/quotes/${quote}/accept`, body);
const detail = (got: Got) => got.json<{ detail: string }>().detail;
/** Refused with 409 and these words. */
const requireRefused = (got: Got, words: string) => {
  expect([got.status, detail(got)]).toEqual([409, expect.stringContaining(words)]);
};

/** An order that was sent. */
async function sent(client = editor): Promise<Order> {
  const got = await accept(await quoted(client), {}, client);
  expect(got.status, got.text).toBe(201);
  const [order] = got.json<{ items: Order[] }>().items;
  if (!order) throw new Error('no order');
  const step = await client.post(`/v1/orders/${order.id}/steps`, { to: 'sent' });
  expect(step.status, step.text).toBe(201);
  return step.json<Order>();
}
const came = (order: Order, body: object, client = editor) =>
  client.post(`/v1/orders/${order.id}/receipts`, body);
const read = async ({ id }: Order) => (await editor.get(`/v1/orders/${id}`)).json<Order>();
/** The number of the line that buys in this form. */
const lineOf = (order: Order, form: string) =>
  order.list.lines.find(({ bought }) => bought.form === form)?.line ?? 0;
const shelf = async () => (await editor.get('/v1/stock?limit=500')).json<{ items: StockItem[] }>().items;

describe('accepting a quote', () => {
  test('makes an order of each order list, as it was, with who and when', async () => {
    const quote = await quoted();
    const got = await accept(quote);
    const [order] = got.json<{ items: Order[] }>().items;
    const result = (await editor.get(`/v1/quotes/${quote}/result`)).json<Result>();
    expect(order).toMatchObject({ number: 1, state: 'draft', list: result.orderLists[0] });
    expect(order?.steps).toMatchObject([{ state: 'draft' }]);
    expect(order?.lines.map(({ ordered, outstanding }) => ordered === outstanding)).toEqual([true, true]);
  });

  test('is refused where an offer has changed since, with what it was, what it is, and what to do', async () => {
    const quote = await quoted();
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
    const quote = await quoted();
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
    const quote = await quoted();
    await editor.post('/v1/rates', { code: 'now', currency: 'EUR', on: '2026-11-20', rate: '0.99' });
    const got = await accept(quote, { suppliers: ['rhein'] });
    expect(got.status, got.text).toBe(201);
    expect(got.json<{ items: Order[] }>().items).toMatchObject([{ list: { theirs: { rate: '0.85' } } }]);
  });

  test('is refused a second time, naming the order that there is', async () => {
    const quote = await quoted();
    await accept(quote);
    const got = await accept(quote);
    requireRefused(got, 'Order 1 is that of shop');
  });

  test('takes the suppliers that are named, and says of whom the quote orders', async () => {
    const quote = await quoted();
    const got = await accept(quote, { suppliers: ['lane'] });
    expect(got.status).toBe(422);
    expect(got.text).toContain('The quote orders from shop');
    expect((await accept(quote, { suppliers: ['shop'] })).status).toBe(201);
  });

  test('is for the owner of the quote and for editors', async () => {
    expect((await accept(await quoted(), {}, ada.client)).status).toBe(403);
    expect((await accept(await quoted(ada.client), {}, ada.client)).status).toBe(201);
  });

  test('of a quote that is not ready is refused', async () => {
    const asked = await editor.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
    const { id, task } = asked.json<{ id: string; task: string }>();
    await editor.post(`${task}/cancel`, undefined);
    await editor.get(`${task}/events`);
    expect([201, 409]).toContain((await accept(id)).status);
  });
});

describe('an order', () => {
  test('goes from draft to sent to received to closed, and each step has who and when', async () => {
    const order = await sent();
    const lines = [
      { line: lineOf(order, 'pack'), arrived: 1 },
      { line: lineOf(order, 'metre'), lengthsMm: [order.lines[lineOf(order, 'metre') - 1]?.ordered] },
    ];
    const got = await came(order, { number: 'D 1', lines, note: 'by post' });
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
    const late = await came(order, { lines: [{ line: 1, arrived: 1 }] });
    requireRefused(late, 'Order 1 is cancelled');
  });

  test('is not closed while something is still to come, unless that is given up', async () => {
    const order = await sent();
    await came(order, { lines: [{ line: lineOf(order, 'pack'), arrived: 1 }] });
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
    const got = await came(order, {
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
    await came(order, { lines: [{ line, lengthsMm: [100] }] });
    expect((await read(order)).state).toBe('partReceived');
    await came(order, { lines: [{ line, lengthsMm: [100] }] });
    expect(await shelf()).toMatchObject([{ lengthMm: 100, count: 2 }]);
  });

  test('and is faulty is still to come, and not on the shelf', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    await came(order, { lines: [{ line, faulty: 1 }] });
    expect((await read(order)).lines[line - 1]).toMatchObject({ faulty: 1, outstanding: 1 });
    expect(await shelf()).toEqual([]);
  });

  test('twice with the same number of the supplier is entered once', async () => {
    const order = await sent();
    const body = { number: 'D 9', lines: [{ line: lineOf(order, 'metre'), lengthsMm: [100] }] };
    await came(order, body);
    const got = await came(order, body);
    requireRefused(got, 'is entered already');
    expect(await shelf()).toMatchObject([{ count: 1 }]);
  });

  test('twice with the same Idempotency-Key is entered once', async () => {
    const order = await sent();
    const body = { lines: [{ line: lineOf(order, 'metre'), lengthsMm: [100] }] };
    const send = () =>
      editor.post(`/v1/orders/${order.id}/receipts`, body, { 'idempotency-key': 'delivery' });
    const first = await send();
    expect((await send()).text).toBe(first.text);
    expect(await shelf()).toMatchObject([{ count: 1 }]);
  });

  test('cannot be more than was ordered unless that is said, and nothing is stored then', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    const got = await came(order, {
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
    expect(await shelf()).toEqual([]);
    expect((await came(order, { lines: [{ line, arrived: 2, over: true }] })).status).toBe(201);
    expect(await shelf()).toMatchObject([{ count: 20 }]);
  });

  test.each([
    { lines: [] },
    { lines: [{ line: 1, arrived: -1 }] },
    { lines: [{ line: 0, arrived: 1 }] },
    { lines: [{ line: 1, arrived: 1, paid: { amount: '-1', currency: 'GBP' } }] },
  ])('is not %j', async (body) => {
    expect((await came(await sent(), body)).status).toBe(422);
  });

  test('of an order that was not sent is refused', async () => {
    const [order] = (await accept(await quoted())).json<{ items: Order[] }>().items;
    const got = await came(order as Order, { lines: [{ line: 1, arrived: 1 }] });
    requireRefused(got, 'Order 1 is a draft');
  });

  test('of a member’s order is the member’s', async () => {
    const order = await sent(ada.client);
    await came(order, { lines: [{ line: lineOf(order, 'pack'), arrived: 1 }] }, ada.client);
    expect(await shelf()).toMatchObject([{ owner: 'Ada', count: 10 }]);
  });

  test('costs what was charged, against what the quote said', async () => {
    const order = await sent();
    const line = lineOf(order, 'pack');
    await came(order, { lines: [{ line, arrived: 1, paid: gbp('2.40') }] });
    const { lines } = (await editor.get(`/v1/orders/${order.id}/cost`)).json<{ lines: object[] }>();
    expect(lines[line - 1]).toEqual({
      line,
      quoted: gbp('2.00'),
      expected: gbp('2.00'),
      paid: gbp('2.40'),
      difference: gbp('0.40'),
    });
  });

  test('is used by the next quote, so that nothing is bought again', async () => {
    const order = await sent();
    const metre = lineOf(order, 'metre');
    const ordered = order.lines[metre - 1]?.ordered ?? 0;
    await came(order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1 },
        { line: metre, lengthsMm: [ordered] },
      ],
    });
    const result = (await editor.get(`/v1/quotes/${await quoted()}/result`)).json<Result>();
    expect(result.purchases).toEqual([]);
    expect(result.fromStock).toHaveLength(2);
  });
});

describe('the rest of a quote', () => {
  /** The result of the quote for what is still missing. */
  async function rest(quote: string, body: object = {}): Promise<Result & { id: string }> {
    const got = await editor.post(`/v1/quotes/${quote}/rest`, body);
    expect(got.status, got.text).toBe(202);
    const { id, task, restOf } = got.json<{ id: string; task: string; restOf: string }>();
    expect(restOf).toBe(quote);
    await editor.get(`${task}/events`);
    return { id, ...(await editor.get(`/v1/quotes/${id}/result`)).json<Result>() };
  }
  const quoteOf = async ({ id }: Order) =>
    (await editor.get(`/v1/orders/${id}`)).json<{ quote: string }>().quote;
  const bought = ({ purchases }: Result) => purchases.map(({ part }) => part);

  test('is nothing while all of it is on its way, and says with which order it comes', async () => {
    const order = await sent();
    const result = await rest(await quoteOf(order));
    expect(bought(result)).toEqual([]);
    expect(result.costs.total).toEqual(gbp('0.00'));
    expect(result.fromStock.map(({ place }) => place)).toEqual([
      'on its way: order 1 from Corner Electrics',
      'on its way: order 1 from Corner Electrics',
    ]);
  });

  test('is what the supplier does not send, bought elsewhere where that supplier is shut out', async () => {
    const order = await sent();
    await came(order, { lines: [{ line: lineOf(order, 'pack'), notComing: 1 }] });
    await editor.post('/v1/suppliers', { code: 'lane', name: 'Lane Wires', currency: 'GBP' });
    const dearer = { ...ringOffer, code: 'ring-lane', supplier: 'lane', packPrice: gbp('2.70') };
    await editor.post('/v1/offers', dearer);
    const quote = await quoteOf(order);
    expect((await rest(quote)).purchases).toMatchObject([{ part: 'ring-6', supplier: 'shop' }]);
    const result = await rest(quote, { shutOut: ['shop'] });
    expect(result.purchases).toMatchObject([{ part: 'ring-6', supplier: 'lane', cost: gbp('2.70') }]);
    // What is ordered of it counts too when the rest is asked for again.
    await accept(result.id);
    expect(bought(await rest(quote))).toEqual([]);
  });

  test('leaves out what came, and what was used and cut for the looms since', async () => {
    const order = await sent();
    const quote = await quoteOf(order);
    const metre = lineOf(order, 'metre');
    const ordered = order.lines[metre - 1]?.ordered ?? 0;
    await came(order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1 },
        { line: metre, lengthsMm: [ordered] },
      ],
    });
    const result = (await editor.get(`/v1/quotes/${quote}/result`)).json<Result>();
    const piece = result.cuttingPlans[0]?.lengths[0]?.pieces[0]?.cutMm ?? 0;
    for (const { code, form } of await shelf())
      await editor.post(
        `/v1/stock/${code}/movements`,
        form === 'pieces' ? { kind: 'used', count: 10, quote } : { kind: 'cut', piecesMm: [piece], quote },
      );
    expect(bought(await rest(quote))).not.toContain('ring-6');
    // Of other looms nothing is left.
    const other = (await editor.get(`/v1/quotes/${await quoted()}/result`)).json<Result>();
    expect(bought(other).sort()).toEqual(['ring-6', 'wire-red']);
  });

  test('counts no order that was cancelled, and nothing that a closed one did not bring', async () => {
    const cancelled = await sent();
    await editor.post(`/v1/orders/${cancelled.id}/steps`, { to: 'cancelled' });
    expect(bought(await rest(await quoteOf(cancelled))).sort()).toEqual(['ring-6', 'wire-red']);
    const closed = await sent();
    await editor.post(`/v1/orders/${closed.id}/steps`, { to: 'closed', openLines: 'givenUp' });
    expect(bought(await rest(await quoteOf(closed))).sort()).toEqual(['ring-6', 'wire-red']);
  });
});

test('what hangs on an order that a member hides is seen by nobody else, and no row of it is changed', async () => {
  const order = await sent(ada.client);
  await came(order, { lines: [{ line: 1, notComing: 1 }] }, ada.client);
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
  const quote = await quoted();
  const answers = await Promise.all(Array.from({ length: 4 }, () => accept(quote)));
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409, 409]);
  expect((await editor.get('/v1/orders')).json<{ items: object[] }>().items).toHaveLength(1);
});
