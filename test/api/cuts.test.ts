import { describe, expect, test } from 'vitest';
import type { CutEntry } from '../../worker/engine/model/cutEntry.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import type { Client } from '../support/client.ts';
import { inFreshClubs } from '../support/freshClubs.ts';
import type { TestClub } from '../support/house.ts';
import { came, lineOf, quoted, sentOrder, shelfOf } from '../support/ordering.ts';

let club: TestClub;
let editor: Client;
inFreshClubs((fresh) => {
  ({ club, editor } = fresh);
});

const cuts = async (quote: string) =>
  (await editor.get(`/v1/quotes/${quote}/cuts`)).json<{ items: CutEntry[] }>().items;
const cut = (quote: string, body: object = {}, client = editor) =>
  client.post(`/v1/quotes/${quote}/cuts`, body);
const lengths = async () =>
  (await shelfOf(editor)).flatMap((item) =>
    item.form === 'length' ? [[item.lengthMm, item.count] as const] : [],
  );
const piecesOf = ({ pieces }: CutEntry) => pieces.reduce((sum, { cutMm, count }) => sum + cutMm * count, 0);
const red = (code: string, lengthMm: number): Promise<unknown> =>
  editor.post('/v1/stock', { code, form: 'length', part: 'wire-red', lengthMm, count: 1, place: 'shed' });
const movements = async (code: string) =>
  (await editor.get(`/v1/stock/${code}/movements`)).json<{ items: object[] }>().items;

describe('the cutting plan of a quote', () => {
  test('is cut when its wire has come, and the offcut goes back with its true length', async () => {
    const quote = await quoted(editor);
    const order = await sentOrder(editor, quote);
    expect((await cuts(quote)).map(({ state }) => state)).toEqual(['notHere']);
    expect((await cut(quote)).json()).toEqual({ items: [] });
    await came(editor, order, { lines: [{ line: lineOf(order, 'metre'), lengthsMm: [9000], over: true }] });
    const [entry] = await cuts(quote);
    expect(entry).toMatchObject({ state: 'ready', entry: 1 });
    const got = await cut(quote);
    expect(got.status, got.text).toBe(201);
    expect(new Map(await lengths())).toEqual(
      new Map([
        [9000 - piecesOf(entry!), 1],
        [9000, 0],
      ]),
    );
    expect((await cuts(quote)).map(({ state }) => state)).toEqual(['cut']);
    // What is cut is cut once.
    expect((await cut(quote)).json()).toEqual({ items: [] });
    const twice = await cut(quote, { cuts: [{ requirement: entry!.requirement, entry: 1 }] });
    expect([twice.status, twice.text]).toEqual([422, expect.stringContaining('cut-already')]);
  });

  test('keeps what you measured of the offcut, and tells which pieces were cut for which quote', async () => {
    await red('red', 9000);
    const quote = await quoted(editor);
    const [entry] = await cuts(quote);
    expect(entry).toMatchObject({ state: 'ready', stock: 'red', from: [{ stock: 'red', place: 'shed' }] });
    await editor.post(`/v1/quotes/${quote}/accept`, {});
    const offcutMm = 9000 - piecesOf(entry!) - 7;
    const { requirement } = entry!;
    const got = await cut(quote, { cuts: [{ requirement, entry: 1, offcutMm }] });
    expect(got.json<{ items: object[] }>().items).toMatchObject([
      { requirement, entry: 1, cuts: [{ offcut: { form: 'length', lengthMm: offcutMm, place: 'shed' } }] },
    ]);
    expect(await movements('red')).toMatchObject([
      { kind: 'cut', quote, requirement, entry: 1, balance: 0 },
      { kind: 'found' },
    ]);
    // The offcut is free again.
    expect((await editor.get('/v1/stock-reservations')).json<{ items: { part: string }[] }>().items).toEqual(
      [],
    );
  });

  test('is cut out of several lengths where the supplier sent no length that holds all pieces', async () => {
    const quote = await quoted(editor);
    const order = await sentOrder(editor, quote);
    const [entry] = await cuts(quote);
    const pieces = entry!.pieces.flatMap(({ cutMm, count }) => Array<number>(count).fill(cutMm));
    await came(editor, order, { lines: [{ line: lineOf(order, 'metre'), lengthsMm: pieces, over: true }] });
    const [ready] = await cuts(quote);
    expect(ready?.from).toHaveLength(pieces.length);
    await cut(quote);
    expect((await lengths()).every(([, count]) => count === 0)).toBe(true);
    expect((await cuts(quote)).map(({ state }) => state)).toEqual(['cut']);
  });

  test('is not cut out of lengths that are too short, or that another took', async () => {
    await red('red', 9000);
    const quote = await quoted(editor);
    const [{ requirement } = { requirement: '' }] = await cuts(quote);
    await editor.post('/v1/stock/red/movements', { kind: 'lost', reason: 'lent' });
    const got = await cut(quote, {
      cuts: [
        { requirement, entry: 1 },
        { requirement, entry: 2 },
        { requirement, entry: 1 },
      ],
    });
    expect(got.status).toBe(422);
    expect(got.json<{ findings: { code: string; at: string }[] }>().findings).toMatchObject([
      { code: 'not-here', at: '/cuts/0/entry' },
      { code: 'unknown-entry', at: '/cuts/1/entry' },
      { code: 'entry-twice', at: '/cuts/2/entry' },
    ]);
  });

  test('is cut by the member whose quote it is, out of the club’s wire that is kept for it', async () => {
    const { client: ada } = await club.joined('member', 'Ada of the bench');
    const { client: bo } = await club.joined('member', 'Bo of the bench');
    await red('red', 9000);
    const quote = await quoted(ada);
    expect((await cut(quote, {}, ada)).status).toBe(403);
    await ada.post(`/v1/quotes/${quote}/accept`, {});
    expect((await cut(quote, {}, bo)).status).toBe(403);
    expect((await cut(quote, {}, ada)).status).toBe(201);
    const { items } = (await ada.get('/v1/stock?limit=500')).json<{ items: StockItem[] }>();
    expect(items.find(({ code }) => code === 'red')?.count).toBe(0);
  });
});
