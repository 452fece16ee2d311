import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import type { Client, Got } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder } from '../support/ordering.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());
beforeEach(async () => {
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
});

/** The rows of a table, each as its cells by the names of their columns. */
const rowsOf = ({ text }: Got) => parse<Record<string, string>>(text, { columns: true });

describe('as a table', () => {
  test('orders are one row each, the newest first, in the state that is asked for', async () => {
    const first = await sentOrder(editor, await quoted(editor));
    const second = await sentOrder(editor, await quoted(editor, { useStock: false }));
    await editor.post(`/v1/orders/${second.id}/steps`, { to: 'cancelled' });
    const got = await editor.get('/v1/orders?format=csv');
    expect(got.headers.get('content-type')).toBe('text/csv; charset=utf-8');
    expect(rowsOf(got)).toMatchObject([
      { number: '2', id: second.id, supplier: 'shop', state: 'cancelled' },
      { number: '1', id: first.id, total: first.list.total.amount, currency: 'GBP' },
    ]);
    const sent = await editor.get('/v1/orders?state=sent', { accept: 'text/csv' });
    expect(rowsOf(sent).map(({ number }) => number)).toEqual(['1']);
    expect((await editor.get('/v1/orders?format=csv&limit=1')).status).toBe(422);
  });

  test('deliveries are one row a line, with the delivery that brought it', async () => {
    const order = await sentOrder(editor, await quoted(editor));
    const [metre, pack] = [lineOf(order, 'metre'), lineOf(order, 'pack')];
    const paid = { amount: '2.10', currency: 'GBP' };
    const lines = [
      { line: metre, lengthsMm: [300] },
      { line: pack, arrived: 1, paid, place: 'shed' },
    ];
    await came(editor, order, { number: 'D 1', day: '2026-11-20', lines });
    await came(editor, order, { lines: [{ line: metre, lengthsMm: [100], over: true }] });
    const rows = rowsOf(await editor.get(`/v1/orders/${order.id}/receipts?format=csv`));
    expect(rows).toMatchObject([
      { number: 'D 1', day: '2026-11-20', line: `${metre}`, 'lengths mm': '300', over: '' },
      { number: 'D 1', line: `${pack}`, arrived: '1', paid: '2.10 GBP', place: 'shed' },
      { number: '', line: `${metre}`, 'lengths mm': '100', over: 'yes' },
    ]);
    expect(rows[0]?.['delivery']).toBe(rows[1]?.['delivery']);
    const nobody = '01890000-0000-7000-8000-00000000000a';
    expect((await editor.get(`/v1/orders/${nobody}/receipts?format=csv`)).status).toBe(404);
  });

  test('movements are all there, over several pages, each with the count after it', async () => {
    await editor.post('/v1/stock', { code: 'box', form: 'pieces', part: 'ring-6', count: 3 });
    await editor.post('/v1/stock', {
      code: 'reel',
      form: 'length',
      part: 'wire-red',
      count: 1,
      lengthMm: 5000,
    });
    const settings = { offcutMinimumMm: 0 };
    const tag = { 'if-match': '*' };
    expect((await (await club.as('admin')).put('/v1/club', { currency: 'GBP', settings }, tag)).status).toBe(
      200,
    );
    await editor.post('/v1/stock/reel/movements', { kind: 'cut', piecesMm: [1200, 600] });
    expect(rowsOf(await editor.get('/v1/stock-movements?format=csv&stock=reel'))).toMatchObject([
      {
        kind: 'cut',
        change: '-1',
        balance: '0',
        'length mm': '5000',
        'pieces mm': '1200, 600',
        offcut: 'reel-3200',
      },
      { kind: 'found', change: '1', balance: '1' },
    ]);
    const found = await editor.get('/v1/stock-movements?format=csv&kind=found');
    expect(rowsOf(found).map(({ stock }) => stock)).toEqual(['reel', 'box']);
  });
});
