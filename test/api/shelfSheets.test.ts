import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { hasPdfReader, pagesOf } from '../sheets/readPdf.ts';
import type { Client, Got } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder, type Order } from '../support/ordering.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let viewer: Client;
beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  viewer = await club.as('viewer');
  await loadSmall(editor);
});
afterAll(() => house.close());

const told = (got: Got) => [got.status, got.headers.get('content-type')];
const findings = (got: Got) =>
  got.json<{ findings: { code: string; where: string; found: string }[] }>().findings;
/** The text of a page, its style left out. */
const textOf = ({ text }: Got) =>
  text.replace(/<style>[\s\S]*?<\/style>/, '').replaceAll(/[\s\u00a0]+/g, ' ');

/** That a path is a page, a PDF and no JSON, is told as not changed to whom has it, and is of its club alone. */
async function requireForms(path: string): Promise<void> {
  const and = path.includes('?') ? '&' : '?';
  expect(told(await viewer.get(path))).toEqual([200, 'text/html; charset=utf-8']);
  const pdf = await viewer.get(`${path}${and}format=pdf`);
  expect([...told(pdf), Buffer.from(pdf.bytes).toString('latin1', 0, 5)]).toEqual([
    200,
    'application/pdf',
    '%PDF-',
  ]);
  expect(told(await viewer.get(path, { accept: 'application/pdf' }))).toEqual([200, 'application/pdf']);
  expect((await viewer.get(path, { accept: 'application/json' })).status).toBe(406);
  const page = await viewer.get(`${path}${and}paper=letter`);
  expect(page.headers.get('content-security-policy')).toMatch(/^default-src 'none'/);
  expect(page.text).toContain('size: letter;');
  const known = { 'if-none-match': page.headers.get('etag') ?? '' };
  expect((await viewer.get(`${path}${and}paper=letter`, known)).status).toBe(304);
  expect((await viewer.get(`${path}${and}paper=a4`, known)).status).toBe(200);
}

describe('the list for goods that come in', () => {
  let order: Order;
  beforeAll(async () => {
    await house.startWorker();
    order = await sentOrder(editor, await quoted(editor));
  });
  const path = () => `/v1/orders/${order.id}/goods-in`;

  test('is a page or a PDF that any viewer of the club reads, and nobody else', async () => {
    await requireForms(path());
    expect((await (await (await house.club()).as('admin')).get(path())).status).toBe(404);
    expect((await viewer.get('/v1/orders/01890000-0000-7000-8000-000000000000/goods-in')).status).toBe(404);
  });

  test('says what is still to come, and after a delivery what came', async () => {
    const before = await viewer.get(path());
    expect(textOf(before)).toMatch(/Goods-in list: order 1, .*Sent on \d{4}-\d\d-\d\d/);
    expect(before.text.match(/class="write"/g)).toHaveLength(4 * order.list.lines.length);
    const line = lineOf(order, 'pack');
    const { outstanding = 0 } = order.lines.find((each) => each.line === line) ?? {};
    const got = await came(editor, order, { lines: [{ line, arrived: outstanding }] });
    expect(got.status, got.text).toBe(201);
    const after = await viewer.get(path(), { 'if-none-match': before.headers.get('etag') ?? '' });
    expect(after.status).toBe(200);
    expect(textOf(after)).toContain('done');
    expect(after.text.match(/class="write"/g)).toHaveLength(4 * (order.list.lines.length - 1));
    const csv = await viewer.get(`${path()}?format=csv`);
    expect(told(csv)).toEqual([200, 'text/csv; charset=utf-8']);
    expect(csv.text.split('\r\n').map((row) => row.split(',')[0])).toEqual([
      'line',
      ...order.list.lines.map((each) => `${each.line}`),
      '',
    ]);
  });
});

describe('the sheets of the shelf', () => {
  beforeAll(async () => {
    club = await house.club();
    editor = await club.as('editor');
    viewer = await club.as('viewer');
    await loadSmall(editor);
    await club.joined('member', 'Ada');
    const pieces = { form: 'pieces', part: 'ring-6' };
    const length = { form: 'length', part: 'wire-red', lengthMm: 3_200 };
    for (const item of [
      { ...pieces, code: 'box-1', count: 12, place: 'drawer 2' },
      { ...pieces, code: 'box-2', count: 0, place: 'drawer 10' },
      { ...length, code: 'red-3200', count: 2, place: 'drawer 10', owner: 'Ada' },
      { ...length, code: 'red-used', count: 0 },
    ]) {
      const got = await editor.post('/v1/stock', item);
      expect(got.status, got.text).toBe(201);
    }
  });

  test('are pages or PDFs that any viewer reads', async () => {
    for (const path of ['/v1/stock-list', '/v1/stock-labels', '/v1/stock-labels?stock=box-1'])
      await requireForms(path);
  });

  test('list what lies there with its place, and nothing that is used up', async () => {
    const text = textOf(await viewer.get('/v1/stock-list'));
    for (const said of [
      'drawer 2',
      'drawer 10',
      'box-1',
      'red-3200',
      '12 pieces',
      '6.4 m in 2 lengths',
      'Ada',
    ])
      expect(text).toContain(said);
    expect(text).not.toMatch(/box-2|red-used/);
  });

  test('are narrowed to a place, a part or a member', async () => {
    const codes = async (query: string) =>
      textOf(await viewer.get(`/v1/stock-list?${query}`)).match(/(box|red)-\w+/g) ?? [];
    const { items } = (await editor.get('/v1/members')).json<{ items: { id: string; name: string }[] }>();
    const ada = items.find(({ name }) => name === 'Ada')?.id ?? '';
    expect(await codes('place=drawer%202')).toContain('box-1');
    expect(await codes('place=drawer%202')).not.toContain('red-3200');
    expect(await codes('part=wire-red')).toEqual(expect.not.arrayContaining(['box-1']));
    expect(new Set(await codes(`owner=${ada}`))).toEqual(new Set(['red-3200']));
    const nobody = await viewer.get('/v1/stock-list?owner=01890000-0000-7000-8000-000000000000');
    expect([nobody.status, findings(nobody)]).toEqual([
      422,
      [expect.objectContaining({ code: 'unknown-member' })],
    ]);
    expect(textOf(await viewer.get('/v1/stock-list?place=attic'))).toContain(
      'Nothing of this lies on the shelf.',
    );
  });

  test('label what lies there and empty drawers, or the items that are named', async () => {
    const labels = async (query: string) =>
      (await viewer.get(`/v1/stock-labels?${query}`)).text.match(/(?<=<br \/>)(box|red)-\w+/g);
    const large = 'labelWidthMm=80&labelHeightMm=30';
    expect(await labels(large)).toEqual(['box-1', 'box-2', 'red-3200']);
    expect(await labels(`${large}&place=drawer%2010`)).toEqual(['box-2', 'red-3200']);
    expect(await labels(`${large}&stock=red-used&stock=box-1`)).toEqual(['box-1', 'red-used']);
    const wrong = await viewer.get('/v1/stock-labels?stock=box-1&stock=box-9');
    expect([wrong.status, findings(wrong)]).toEqual([
      422,
      [
        expect.objectContaining({
          code: 'unknown-stock-item',
          where: 'query, stock, number 2',
          found: '"box-9"',
        }),
      ],
    ]);
    const wide = await viewer.get('/v1/stock-labels?labelWidthMm=250');
    expect([wide.status, findings(wide)]).toEqual([
      422,
      [expect.objectContaining({ code: 'label-too-large' })],
    ]);
  });

  test.skipIf(!hasPdfReader)('are printed as labels of the size that is asked for', async () => {
    const got = await viewer.get('/v1/stock-labels?format=pdf&labelForm=strip&stock=red-3200');
    const [label = ''] = pagesOf(got.bytes);
    for (const said of ['red-3200 · 3.2 m (3200 mm)', 'drawer 10']) expect(label).toContain(said);
  });

  test('of another club show nothing of this one', async () => {
    const other = await (await house.club()).as('admin');
    for (const path of ['/v1/stock-list', '/v1/stock-labels'])
      expect(textOf(await other.get(path))).not.toMatch(/box-|red-/);
    expect((await other.get('/v1/stock-labels?stock=box-1')).status).toBe(422);
  });
});
