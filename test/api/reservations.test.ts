import { describe, expect, test } from 'vitest';
import type { Reservation } from '../../worker/engine/model/reservation.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client } from '../support/client.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import type { TestClub } from '../support/house.ts';
import { testOnlyIn } from '../support/mode.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

let club: TestClub;
let editor: Client;
inFreshClubs(async (fresh) => {
  ({ club, editor } = fresh);
  // As many rings as the loom needs, and three more.
  await editor.post('/v1/stock', { code: 'rings', form: 'pieces', part: 'ring-6', count: 5 });
});

const red = (lengthMm: number) => ({ code: 'red', form: 'length', part: 'wire-red', lengthMm, count: 1 });
const accept = (quote: string, body: object = {}, client = editor) =>
  client.post(`/v1/quotes/${quote}/accept`, body);
const kept = async (query = '', client = editor) =>
  (await client.get(`/v1/stock-reservations${query}`)).json<{ items: Reservation[] }>().items;
const result = async (quote: string) => (await editor.get(`/v1/quotes/${quote}/result`)).json<Result>();
const taken = async (quote: string) =>
  (await result(quote)).fromStock.map(({ stock, count }) => [stock, count]);
const move = (code: string, body: object) => editor.post(`/v1/stock/${code}/movements`, body);
const cancel = async (quote: string) => {
  const { items } = (await editor.get(`/v1/orders?quote=${quote}`)).json<{ items: Order[] }>();
  for (const { id } of items) await editor.post(`/v1/orders/${id}/steps`, { to: 'cancelled' });
};

describe('what an accepted quote takes off the shelf', () => {
  test('is kept for it, and is not there for other quotes', async () => {
    const first = await quoted(editor);
    const [[, needed] = []] = await taken(first);
    expect(await kept()).toEqual([]);
    expect((await accept(first)).status).toBe(201);
    expect(await kept()).toMatchObject([
      { stock: 'rings', part: 'ring-6', count: needed, quote: first, who: expect.any(String) as string },
    ]);
    const job = (await editor.get(`/v1/quotes/${await quoted(editor)}/job`)).json<{ stock: StockItem[] }>();
    expect(job.stock.map(({ code, count }) => [code, count])).toEqual([['rings', 5 - Number(needed)]]);
  });

  test('is let go when all orders of the quote are cancelled, or when someone says so', async () => {
    const first = await quoted(editor);
    await accept(first);
    await cancel(first);
    expect(await kept()).toEqual([]);
    const second = await quoted(editor);
    await accept(second);
    const before = await kept();
    const got = await editor.post(`/v1/quotes/${second}/release`, {});
    expect(got.json()).toEqual({ items: before.map(({ stock, count }) => ({ stock, count })) });
    expect(await kept()).toEqual([]);
    expect((await editor.post(`/v1/quotes/${second}/release`, {})).json()).toEqual({ items: [] });
  });

  test('is kept until the day that was named, and not for a day that is over', async () => {
    const quote = await quoted(editor);
    const late = await accept(quote, { keepUntil: '2001-01-01' });
    expect([late.status, late.text]).toEqual([422, expect.stringContaining('That day is over')]);
    await accept(quote, { keepUntil: '9000-01-01' });
    expect(await kept()).toMatchObject([{ until: '9000-01-01' }]);
  });

  test('is refused where others took it since, and nothing is ordered then', async () => {
    const [first, second] = [await quoted(editor), await quoted(editor)];
    await move('rings', { kind: 'used', count: 4 });
    await accept(first);
    const got = await accept(second);
    expect(got.status).toBe(409);
    expect(got.text).toMatch(/The shelf has changed since this quote\. rings: \d are needed, and 1 is free/);
    expect((await editor.get('/v1/orders')).json<{ items: unknown[] }>().items).toEqual([]);
  });

  test('is refused where it is gone, or is of another length now', async () => {
    await editor.post('/v1/stock', red(9000));
    const quote = await quoted(editor);
    await editor.delete('/v1/stock/rings', { 'if-match': '*' });
    await editor.put('/v1/stock/red', red(400), { 'if-match': '*' });
    const got = await accept(quote);
    expect(got.status).toBe(409);
    expect(got.text).toContain('rings: it is gone');
    expect(got.text).toContain('red: it has 400 mm now');
  });

  test('can be accepted where nothing is bought at all', async () => {
    await editor.post('/v1/stock', red(9000));
    const quote = await quoted(editor);
    const got = await accept(quote);
    expect([got.status, got.json()]).toEqual([201, { items: [] }]);
    expect((await kept()).map(({ stock }) => stock).sort()).toEqual(['red', 'rings']);
  });

  test('is used for the quote, which takes it off what is kept, and for others only if it is free', async () => {
    const quote = await quoted(editor);
    await accept(quote);
    const [{ count } = { count: 0 }] = await kept();
    const got = await move('rings', { kind: 'used', count: 5 - count + 1 });
    expect([got.status, got.text]).toEqual([422, expect.stringContaining('kept-for-others')]);
    expect((await move('rings', { kind: 'used', count: 1, quote })).status).toBe(201);
    expect(await kept()).toMatchObject(count === 1 ? [] : [{ count: count - 1 }]);
  });

  test('is used by the member whose quote it is, whose ever it is, and no more than is kept', async () => {
    const { client: ada } = await club.joined('member', 'Ada of the drawer');
    const quote = await quoted(ada);
    await accept(quote, {}, ada);
    const [{ count, at } = { count: 0, at: '' }] = await kept();
    const use = async (many: number) =>
      (await ada.post('/v1/stock/rings/movements', { kind: 'used', count: many, quote })).status;
    expect(await use(count + 1)).toBe(403);
    expect(await use(1)).toBe(201);
    // It was kept when it was kept.
    expect(await kept()).toMatchObject(count === 1 ? [] : [{ count: count - 1, at }]);
  });

  test('is let go as far as it is not there any more, and the answer says so', async () => {
    const quote = await quoted(editor);
    await accept(quote);
    const [{ count } = { count: 0 }] = await kept();
    const got = await move('rings', { kind: 'counted', count: count - 1, reason: 'the rest is rusty' });
    expect(got.json()).toMatchObject({ letGo: 1 });
    expect(await kept()).toMatchObject(count === 1 ? [] : [{ count: count - 1 }]);
    await editor.delete('/v1/stock/rings', { 'if-match': '*' });
    expect(await kept()).toEqual([]);
  });
});

describe('what comes for an accepted quote', () => {
  test('is kept for it as far as its looms need it; what is over is free', async () => {
    const quote = await quoted(editor, { useStock: false });
    const order = await sentOrder(editor, quote);
    const need = (await result(quote)).requirements.find(({ kind }) => kind === 'count');
    await came(editor, order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1 },
        { line: lineOf(order, 'metre'), lengthsMm: [order.lines[lineOf(order, 'metre') - 1]?.ordered ?? 0] },
      ],
    });
    const all = new Map((await kept()).map(({ part, count }) => [part, count]));
    expect(all.get('wire-red')).toBe(1);
    expect(all.get('ring-6')).toBe(need && 'quantity' in need ? need.quantity : undefined);
    const rings = (await shelfOf(editor)).find(
      ({ code }) => code.startsWith('order-1-') && code.includes('ring'),
    );
    expect(rings?.count).toBeGreaterThan(all.get('ring-6') ?? 0);
  });

  test('is not kept once the quote was let go', async () => {
    const quote = await quoted(editor, { useStock: false });
    const order = await sentOrder(editor, quote);
    await editor.post(`/v1/quotes/${quote}/release`, {});
    await came(editor, order, { lines: [{ line: lineOf(order, 'pack'), arrived: 1 }] });
    expect(await kept()).toEqual([]);
  });

  test('is there for the rest of the same quote', async () => {
    const quote = await quoted(editor);
    const order = await sentOrder(editor, quote);
    const { task, id } = (await editor.post(`/v1/quotes/${quote}/rest`, {})).json<{
      task: string;
      id: string;
    }>();
    await editor.get(`${task}/events`);
    expect((await result(id)).purchases).toEqual([]);
    expect(await taken(id)).toContainEqual(['rings', (await kept())[0]?.count]);
    expect(order.state).toBe('sent');
    // Accepting it keeps nothing twice.
    const before = await kept();
    expect((await accept(id)).status).toBe(201);
    expect(await kept()).toEqual(
      before.map((one) => expect.objectContaining({ stock: one.stock, count: one.count }) as object),
    );
  });
});

test('what is kept for a quote that one does not see is told without the quote', async () => {
  const { client: ada } = await club.joined('member', 'Ada of the shelf');
  const asked = await ada.post('/v1/quotes?seenBy=owner', { looms: [{ loom: 'loom', quantity: 1 }] });
  const { id: quote, task } = asked.json<{ id: string; task: string }>();
  await ada.get(`${task}/events`);
  expect((await accept(quote, {}, ada)).status).toBe(201);
  const [seen] = await kept();
  expect(seen).toMatchObject({ stock: 'rings' });
  expect(seen).not.toHaveProperty('quote');
  expect(seen).not.toHaveProperty('who');
  expect(await kept('?stock=rings', ada)).toMatchObject([{ quote }]);
  expect(await kept(`?quote=${quote}`)).toEqual([]);
});

testOnlyIn('service', 'PGlite has one connection, so that no two requests are under way at once')(
  'of several who accept quotes for the same rings at once no more are kept than are there',
  async () => {
    const quotes: string[] = [];
    for (let each = 0; each < 4; each++) quotes.push(await quoted(editor));
    await Promise.all(quotes.map((quote) => accept(quote)));
    const all = await kept();
    expect(all.reduce((sum, { count }) => sum + count, 0)).toBeLessThanOrEqual(5);
    expect(all.length).toBeGreaterThan(0);
  },
);
