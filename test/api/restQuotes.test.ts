import { describe, expect, test } from 'vitest';
import type { Result } from '../../worker/engine/model/result.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client } from '../support/client.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import { gbp, ring, ringOffer } from '../support/fixtures.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

let editor: Client;
inFreshClubs((fresh) => {
  ({ editor } = fresh);
});

/** The result of the quote for what is still missing. */
async function rest(quote: string, body: object = {}): Promise<Result & { id: string }> {
  const got = await editor.post(`/v1/quotes/${quote}/rest`, body);
  expect(got.status, got.text).toBe(202);
  const { id, task, restOf } = got.json<{ id: string; task: string; restOf: string }>();
  expect(restOf).toBe(quote);
  await editor.get(`${task}/events`);
  return { id, ...(await editor.get(`/v1/quotes/${id}/result`)).json<Result>() };
}
const sent = async () => sentOrder(editor, await quoted(editor));
const quoteOf = async ({ id }: Order) =>
  (await editor.get(`/v1/orders/${id}`)).json<{ quote: string }>().quote;
const bought = ({ purchases }: Result) => purchases.map(({ part }) => part);

describe('the rest of a quote', () => {
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
    await came(editor, order, { lines: [{ line: lineOf(order, 'pack'), notComing: 1 }] });
    await editor.post('/v1/suppliers', { code: 'lane', name: 'Lane Wires', currency: 'GBP' });
    const dearer = { ...ringOffer, code: 'ring-lane', supplier: 'lane', packPrice: gbp('2.70') };
    await editor.post('/v1/offers', dearer);
    const quote = await quoteOf(order);
    expect((await rest(quote)).purchases).toMatchObject([{ part: 'ring-6', supplier: 'shop' }]);
    const result = await rest(quote, { shutOut: ['shop'] });
    expect(result.purchases).toMatchObject([{ part: 'ring-6', supplier: 'lane', cost: gbp('2.70') }]);
    // What is ordered of it counts too when the rest is asked for again.
    await editor.post(`/v1/quotes/${result.id}/accept`, {});
    expect(bought(await rest(quote))).toEqual([]);
  });

  test('leaves out what came, and what was used and cut for the looms since', async () => {
    const order = await sent();
    const quote = await quoteOf(order);
    const metre = lineOf(order, 'metre');
    const ordered = order.lines[metre - 1]?.ordered ?? 0;
    await came(editor, order, {
      lines: [
        { line: lineOf(order, 'pack'), arrived: 1 },
        { line: metre, lengthsMm: [ordered] },
      ],
    });
    const result = (await editor.get(`/v1/quotes/${quote}/result`)).json<Result>();
    const piecesMm = result.cuttingPlans.flatMap(({ lengths }) =>
      lengths.flatMap(({ pieces }) => pieces.flatMap(({ cutMm, count }) => Array<number>(count).fill(cutMm))),
    );
    for (const { code, form } of await shelfOf(editor))
      await editor.post(
        `/v1/stock/${code}/movements`,
        form === 'pieces' ? { kind: 'used', count: 10, quote } : { kind: 'cut', piecesMm, quote },
      );
    expect(bought(await rest(quote))).toEqual([]);
    // Of other looms nothing is left.
    const other = (await editor.get(`/v1/quotes/${await quoted(editor)}/result`)).json<Result>();
    expect(bought(other).sort()).toEqual(['ring-6', 'wire-red']);
  });

  test('names what is on its way by the part that it was merged into, and leaves out what is gone', async () => {
    const order = await sent();
    const quote = await quoteOf(order);
    await editor.post('/v1/parts', { ...ring, code: 'ring-m6' });
    const merged = await editor.post('/v1/parts/ring-6/merge', { into: 'ring-m6' }, { 'if-match': '*' });
    expect(merged.status, merged.text).toBe(200);
    const result = await rest(quote);
    expect(bought(result)).toEqual([]);
    expect(result.fromStock.map(({ part }) => part).sort()).toEqual(['ring-m6', 'wire-red']);
  });

  test('of a quote that used no stock counts what came with its orders, also what is left of it, and no other stock', async () => {
    const quote = await quoted(editor, {
      useStock: false,
      settings: { besideSeconds: 0, offcutMinimumMm: 0 },
    });
    const order = await sentOrder(editor, quote);
    await editor.post('/v1/stock', { code: 'mine', form: 'pieces', part: 'ring-6', count: 99 });
    const metre = lineOf(order, 'metre');
    const ordered = order.lines[metre - 1]?.ordered ?? 0;
    // One length came that is 700 mm longer; those 700 mm are cut off it for something else.
    const lines = [
      { line: metre, lengthsMm: [ordered + 700], over: true },
      { line: lineOf(order, 'pack'), notComing: 1 },
    ];
    const got = await came(editor, order, { lines });
    const [wire] = got.json<{ shelved: StockItem[] }>().shelved;
    await editor.post(`/v1/stock/${wire?.code}/movements`, { kind: 'cut', piecesMm: [700] });
    expect(bought(await rest(quote))).toEqual(['ring-6']);
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
