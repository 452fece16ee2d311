import { describe, expect, test } from 'vitest';
import type { OrderCost } from '../../worker/engine/model/order.ts';
import type { Client, Got } from '../support/client.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import { gbp } from '../support/fixtures.ts';
import type { TestClub } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

let club: TestClub;
let editor: Client;
let order: Order;
inFreshClubs(async (fresh) => {
  ({ club, editor } = fresh);
  order = await sentOrder(editor, await quoted(editor));
});

const say = (what: 'returns' | 'refunds' | 'charges', body: object, client = editor) =>
  client.post(`/v1/orders/${order.id}/${what}`, body);
const cost = async () => (await editor.get(`/v1/orders/${order.id}/cost`)).json<OrderCost>();
const codes = (got: Got) => got.json<{ findings: { code: string }[] }>().findings.map(({ code }) => code);
const pack = () => lineOf(order, 'pack');
const rings = async () => (await shelfOf(editor)).find(({ part }) => part === 'ring-6');

describe('goods that go back', () => {
  test('leave the shelf and what is kept, and the order says so', async () => {
    await came(editor, order, { lines: [{ line: pack(), arrived: 1 }] });
    expect((await rings())?.count).toBe(10);
    const got = await say('returns', { line: pack(), what: 'right', count: 1, reason: 'bought twice' });
    expect(got.status, got.text).toBe(201);
    expect(got.json<Order>().lines[pack() - 1]).toMatchObject({
      arrived: 1,
      returned: { right: 1, faulty: 0, wrong: 0 },
      outstanding: 0,
    });
    const item = await rings();
    expect(item?.count).toBe(0);
    const { items } = (await editor.get(`/v1/stock/${item?.code}/movements`)).json<{ items: object[] }>();
    expect(items).toMatchObject([{ kind: 'returned', change: -10, order: order.id }, { kind: 'received' }]);
    const kept = (await editor.get(`/v1/stock-reservations?stock=${item?.code}`)).json<{ items: object[] }>();
    expect(kept.items).toEqual([]);
    expect(codes(await say('returns', { line: pack(), what: 'right', count: 1 }))).toEqual([
      'more-than-came',
    ]);
  });

  test('are not what was used since, nor wire off the reel, and nothing is stored then', async () => {
    await came(editor, order, {
      lines: [
        { line: pack(), arrived: 1 },
        { line: lineOf(order, 'metre'), lengthsMm: [1000] },
      ],
    });
    const { quote } = (await editor.get(`/v1/orders/${order.id}`)).json<{ quote: string }>();
    await editor.post(`/v1/stock/${(await rings())?.code}/movements`, { kind: 'used', quote });
    expect(codes(await say('returns', { line: pack(), what: 'right', count: 1 }))).toEqual(['used-already']);
    const wire = { line: lineOf(order, 'metre'), what: 'right', count: 1 };
    expect(codes(await say('returns', wire))).toEqual(['cut-for-you']);
    expect((await editor.get(`/v1/orders/${order.id}/entries`)).json()).toEqual({ items: [] });
    const [length] = (await shelfOf(editor)).filter(({ form }) => form === 'length');
    const got = await say('returns', { ...wire, agreed: true, stock: length?.code });
    expect(got.status, got.text).toBe(201);
    expect(got.json<Order>().lines[wire.line - 1]?.returned.right).toBe(1000);
  });

  test('are bought again by the quote for the rest', async () => {
    await came(editor, order, { lines: [{ line: pack(), arrived: 1 }] });
    await say('returns', { line: pack(), what: 'right', count: 1 });
    const { quote } = (await editor.get(`/v1/orders/${order.id}`)).json<{ quote: string }>();
    const rest = (await editor.post(`/v1/quotes/${quote}/rest`, {})).json<{ id: string; task: string }>();
    await editor.get(`${rest.task}/events`);
    const { purchases } = (await editor.get(`/v1/quotes/${rest.id}/result`)).json<{
      purchases: { part: string }[];
    }>();
    expect(purchases.map(({ part }) => part)).toEqual(['ring-6']);
  });
});

describe('a refund', () => {
  test('makes the order cost less, with the fee that the supplier kept told beside it', async () => {
    const before = await cost();
    const got = await say('refunds', { refund: gbp('1.20'), fee: gbp('0.30'), number: 'CN 4' });
    expect(got.status, got.text).toBe(201);
    const after = await cost();
    expect(Number(after.paid.amount)).toBeCloseTo(Number(before.paid.amount) - 1.2, 9);
    expect(after.restockingFees).toEqual(gbp('0.30'));
    expect(after.items).toContainEqual({
      kind: 'refunds',
      quoted: gbp('0.00'),
      paid: gbp('-1.20'),
      stated: true,
    });
  });

  test('is entered once by its number, in the right currency, and is never more than was paid', async () => {
    await say('refunds', { refund: gbp('1.20'), number: 'CN 4' });
    const twice = await say('refunds', { refund: gbp('1.20'), number: 'CN 4' });
    expect([twice.status, twice.text]).toEqual([409, expect.stringContaining('is entered already')]);
    expect(codes(await say('refunds', { refund: { amount: '1.00', currency: 'EUR' } }))).toEqual([
      'other-currency',
    ]);
    expect(codes(await say('refunds', { refund: gbp('9999.00') }))).toEqual(['more-than-paid']);
    const { items } = (await editor.get(`/v1/orders/${order.id}/entries`)).json<{ items: object[] }>();
    expect(items).toMatchObject([{ kind: 'refund', refund: gbp('1.20'), number: 'CN 4' }]);
  });
});

describe('what was charged beside the goods', () => {
  test('stands in the cost as it was stated, the last of each', async () => {
    await say('charges', { postage: gbp('9.00') });
    await say('charges', { postage: gbp('7.50'), duty: gbp('1.00') });
    const { items } = await cost();
    expect(items).toContainEqual(
      expect.objectContaining({ kind: 'postage', paid: gbp('7.50'), stated: true }),
    );
    expect(items).toContainEqual(
      expect.objectContaining({ kind: 'duty', quoted: gbp('0.00'), paid: gbp('1.00') }),
    );
  });

  test('has no rate where nothing is exchanged, and no other currency', async () => {
    expect(codes(await say('charges', { rate: '0.86' }))).toEqual(['no-exchange']);
    expect(codes(await say('charges', { duty: { amount: '1.00', currency: 'EUR' } }))).toEqual([
      'other-currency',
    ]);
    expect((await say('charges', { rate: '0.0' })).status).toBe(422);
  });
});

test('of an order that was not sent nothing goes back, is refunded or charged; nor by whom it is not', async () => {
  const quote = await quoted(editor);
  const [draft] = (await editor.post(`/v1/quotes/${quote}/accept`, {})).json<{ items: Order[] }>().items;
  const { client: bo } = await club.joined('member', 'Bo of the bench');
  const bodies = {
    returns: { line: 1, what: 'right', count: 1 },
    refunds: { refund: gbp('1.00') },
    charges: {},
  };
  for (const [what, body] of Object.entries(bodies)) {
    expect((await editor.post(`/v1/orders/${draft?.id}/${what}`, body)).status).toBe(409);
    expect((await bo.post(`/v1/orders/${order.id}/${what}`, body)).status).toBe(403);
  }
});
