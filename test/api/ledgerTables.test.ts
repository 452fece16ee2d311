import { parse } from 'csv-parse/sync';
import { beforeEach, describe, expect, test } from 'vitest';
import type { Client, Got } from '../support/client.ts';
import { testOnlyIn } from '../support/mode.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import type { TestClub } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder, shelfOf, type Order } from '../support/ordering.ts';

let club: TestClub;
let editor: Client;
inFreshClubs((fresh) => {
  ({ club, editor } = fresh);
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

/** A table that is sent. */
const table = (
  client: Client,
  path: string,
  lines: readonly string[],
  headers: Record<string, string> = {},
) =>
  client.send('POST', path, {
    body: Buffer.from(`${lines.join('\r\n')}\r\n`),
    headers: { 'content-type': 'text/csv', ...headers },
  });

interface Fault {
  code: string;
  where: string;
  found: string;
  todo: string;
}
const faultsOf = (got: Got) => {
  expect(got.status, got.text).toBe(422);
  return got.json<{ findings: Fault[] }>().findings;
};

describe('a delivery that is sent as a table', () => {
  const path = ({ id }: Order, query = '') => `/v1/orders/${id}/receipts${query}`;

  test('is what the same delivery is as JSON, with its number, day and note in the query', async () => {
    const [one, two] = [
      await sentOrder(editor, await quoted(editor)),
      await sentOrder(editor, await quoted(editor, { useStock: false })),
    ];
    const [metre, pack] = [lineOf(one, 'metre'), lineOf(one, 'pack')];
    const paid = { amount: '2.10', currency: 'GBP' };
    const lines = [
      { line: pack, arrived: 1, paid, place: 'shed' },
      { line: metre, lengthsMm: [3200, 1800], over: true },
    ];
    const asJson = await came(editor, one, { number: 'D 1', day: '2026-11-20', note: 'by post', lines });
    expect(asJson.status, asJson.text).toBe(201);
    const got = await table(editor, path(two, '?number=D%201&day=2026-11-20&note=by%20post'), [
      'Line,Arrived,Lengths mm,Over,Paid,Place',
      `${pack},1,,,2.10,shed`,
      `${metre},,3.2 m; 1800,yes,,`,
    ]);
    expect(got.status, got.text).toBe(201);
    const body = async (order: Order) => {
      const { items } = (await editor.get(path(order))).json<{ items: { id: string; at: string }[] }>();
      return items.map(({ id: _id, at: _at, ...rest }) => rest);
    };
    expect(await body(two)).toEqual(await body(one));
    expect(got.json<{ order: Order }>().order.state).toBe('received');
  });

  test('is read back from the table that it is told as', async () => {
    const [one, two] = [
      await sentOrder(editor, await quoted(editor)),
      await sentOrder(editor, await quoted(editor, { useStock: false })),
    ];
    const lines = [
      { line: lineOf(one, 'pack'), faulty: 1, backOrdered: 1 },
      { line: lineOf(one, 'metre'), lengthsMm: [400, 100], notComing: 1, over: true },
    ];
    await came(editor, one, { day: '2026-11-20', lines });
    const told = parse((await editor.get(path(one, '?format=csv'))).text);
    const from = told[0]?.indexOf('line') ?? 0;
    const cells = told.map((row) =>
      row
        .slice(from)
        .map((cell) => `"${cell}"`)
        .join(','),
    );
    expect((await table(editor, path(two), cells)).status).toBe(201);
    const again = parse((await editor.get(path(two, '?format=csv'))).text);
    expect(again.map((row) => row.slice(from))).toEqual(told.map((row) => row.slice(from)));
  });

  test('is refused whole, with every fault by its row and column', async () => {
    const order = await sentOrder(editor, await quoted(editor));
    const [metre, pack] = [lineOf(order, 'metre'), lineOf(order, 'pack')];
    const got = await table(editor, path(order), [
      'line,arrived,lengths mm,paid',
      `${pack},7,,`,
      `${pack},1,,`,
      `${metre},3,,`,
      `77,1,,`,
      `${metre},,"1,800",`,
      `${pack},many,,2.10 EUR`,
    ]);
    expect(faultsOf(got).map(({ code, where }) => [code, where])).toEqual([
      ['more-than-ordered', 'delivery.csv, row 2, column arrived'],
      ['line-twice', 'delivery.csv, row 3, column line'],
      ['by-the-metre', 'delivery.csv, row 4, column arrived'],
      ['unknown-line', 'delivery.csv, row 5, column line'],
      ['wrong-form', 'delivery.csv, row 6, column lengths mm'],
      ['not-a-number', 'delivery.csv, row 7, column arrived'],
    ]);
    expect(got.text).toContain('write yes in the column over');
    expect((await editor.get(path(order))).json()).toEqual({ items: [] });
    expect(await shelfOf(editor)).toEqual([]);
  });

  test('comes once with an Idempotency-Key, and the key is another request’s where the query differs', async () => {
    const order = await sentOrder(editor, await quoted(editor));
    const lines = ['line,arrived', `${lineOf(order, 'pack')},1`];
    const key = { 'idempotency-key': 'd-1' };
    expect((await table(editor, path(order, '?number=D1'), lines, key)).status).toBe(201);
    const again = await table(editor, path(order, '?number=D1'), lines, key);
    expect([again.status, again.headers.get('idempotent-replay')]).toEqual([201, 'true']);
    expect((await table(editor, path(order, '?number=D2'), lines, key)).status).toBe(422);
    expect((await editor.get(path(order))).json<{ items: object[] }>().items).toHaveLength(1);
  });

  test('says so where it has no rows, no column names, or columns that there are not', async () => {
    const order = await sentOrder(editor, await quoted(editor));
    expect(faultsOf(await table(editor, path(order), ['line,arrived']))).toMatchObject([{ code: 'no-rows' }]);
    const [empty] = faultsOf(await table(editor, path(order), []));
    expect(empty).toMatchObject({ code: 'empty-file' });
    expect(empty?.todo).toContain('line, arrived, lengths mm');
    expect(faultsOf(await table(editor, path(order), ['line,arived', '1,1']))[0]?.todo).toContain('arrived');
    const beside = await editor.post(path(order, '?number=D1'), { lines: [{ line: 1, arrived: 1 }] });
    expect(faultsOf(beside)).toMatchObject([{ code: 'only-with-csv', found: 'number' }]);
    const template = await editor.get(path(order, '?format=template'));
    expect(template.text.split('\r\n')[0]).toMatch(/^line,arrived,lengths mm/);
    const packed = await table(editor, path(order), ['line'], { 'content-encoding': 'gzip' });
    expect(packed.status).toBe(415);
  });
});

describe('movements that are sent as a table', () => {
  const path = '/v1/stock-movements';
  beforeEach(async () => {
    await editor.post('/v1/stock', { code: 'box', form: 'pieces', part: 'ring-6', count: 3 });
    const reel = { code: 'reel', form: 'length', part: 'wire-red', count: 2, lengthMm: 5000 };
    await editor.post('/v1/stock', reel);
  });
  const counts = async () => (await shelfOf(editor)).map(({ code, count }) => [code, count]);

  test('are made one after another, each with what became of its item', async () => {
    const got = await table(editor, path, [
      'stock;kind;count;pieces mm;place;reason',
      'box;found;4;;;',
      'box;Lost;2;;;two were bent',
      'box;moved;;;"shed, left";',
      'reel;cut;;1200 600;;',
    ]);
    expect(got.status, got.text).toBe(201);
    const { items } = got.json<{ items: { movement: { balance: number }; offcut?: { code: string } }[] }>();
    expect(items.map(({ movement }) => movement.balance)).toEqual([7, 5, 5, 1]);
    expect(items[3]?.offcut?.code).toBe('reel-3200');
    expect(await counts()).toEqual([
      ['box', 5],
      ['reel', 1],
      ['reel-3200', 1],
    ]);
    expect(await shelfOf(editor)).toMatchObject([{ place: 'shed, left' }, {}, {}]);
  });

  test('are all refused where one cannot be, with every fault by its row and column', async () => {
    const before = await counts();
    const got = await table(editor, path, [
      'stock,kind,count,pieces mm,place,reason,quote',
      'box,found,4,,,,',
      'box,lost,9,,,gone,',
      'box,lost,1,,,,',
      'no-such,found,1,,,,',
      'reel,cut,,9000,,,',
      'box,bought,1,,,,',
      'box,found,1,,shed,,',
      'box,used,1,,,,01890000-0000-7000-8000-00000000000a',
    ]);
    expect(faultsOf(got).map(({ where }) => where)).toEqual([
      'movements.csv, row 3, column count',
      'movements.csv, row 4, column reason',
      'movements.csv, row 5, column stock',
      'movements.csv, row 6, column pieces mm',
      'movements.csv, row 7, column kind',
      'movements.csv, row 8, column place',
      'movements.csv, row 9, column quote',
    ]);
    expect(await counts()).toEqual(before);
    expect(rowsOf(await editor.get(`${path}?format=csv`))).toHaveLength(2);
  });

  test('of another’s item are refused to members, and come once with an Idempotency-Key', async () => {
    const member = await club.as('member');
    const rows = ['stock,kind', 'box,found'];
    expect(faultsOf(await table(member, path, rows))).toMatchObject([{ code: 'not-yours' }]);
    const key = { 'idempotency-key': 'm-1' };
    for (let time = 0; time < 2; time++) expect((await table(editor, path, rows, key)).status).toBe(201);
    expect((await counts())[0]).toEqual(['box', 4]);
  });

  test('are at most 500', async () => {
    const rows = Array.from({ length: 501 }, () => 'box,found');
    expect(faultsOf(await table(editor, path, ['stock,kind', ...rows]))).toMatchObject([
      { code: 'too-many-rows' },
    ]);
    expect((await counts())[0]).toEqual(['box', 3]);
  });
});

testOnlyIn('service', 'PGlite has one connection, so that no two requests are under way at once')(
  'tables of movements and single ones at the same moment never wait for each other',
  async () => {
    const reel = { code: 'reel', form: 'length', part: 'wire-red', count: 60, lengthMm: 5000 };
    await editor.post('/v1/stock', reel);
    await editor.post('/v1/stock', { ...reel, code: 'reel-4900', lengthMm: 4900 });
    const rows = ['stock;kind;pieces mm', 'reel-4900;cut;10', 'reel;cut;100'];
    const all = await Promise.all(
      Array.from({ length: 20 }, (_, at) =>
        at % 2 === 0
          ? table(editor, '/v1/stock-movements', rows)
          : editor.post('/v1/stock/reel/movements', { kind: 'cut', piecesMm: [100] }),
      ),
    );
    expect(all.map(({ status }) => status)).toEqual(Array<number>(20).fill(201));
    const counts = new Map((await shelfOf(editor)).map(({ code, count }) => [code, count]));
    expect([counts.get('reel'), counts.get('reel-4900')]).toEqual([40, 60 - 10 + 20]);
  },
);
