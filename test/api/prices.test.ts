import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { plusDays } from '../../worker/engine/units/day.ts';
import type { PriceCourse } from '../../worker/engine/model/priceCourse.ts';
import type { QuoteToday } from '../../worker/engine/model/quoteToday.ts';
import type { PriceListImport } from '../../api/tables/priceList.ts';
import type { Client, Got } from '../support/client.ts';
import { gbp, loadSmall, ring, ringOffer, shop } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { askQuote, untilTask } from '../support/taskRows.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;

const today = () => new Date().toISOString().slice(0, 10);
const ago = (days: number) => plusDays(today(), -days);

beforeAll(async () => {
  house = await openHouse();
  await house.startWorker();
});
afterAll(() => house.close());
beforeEach(async () => {
  club = await house.club();
  editor = await club.as('editor');
  await editor.post('/v1/parts', ring);
  await editor.post('/v1/suppliers', shop);
});

interface Asked {
  query?: string;
  client?: Client;
}

/** Puts an offer in place of the stored one, whatever its state. */
const put = (
  body: { code: string } & Record<string, unknown>,
  { query = '', client = editor }: Asked = {},
): Promise<Got> => client.put(`/v1/offers/${body.code}${query}`, body, { 'if-match': '*' });

const add = (body: object) => editor.post('/v1/offers', { ...ringOffer, ...body });
const stored = async (code = 'ring-pack') =>
  (await editor.get(`/v1/offers/${code}`)).json<{ seenOn?: string; packPrice: { amount: string } }>();
const course = async (part = 'ring-6', client = editor) =>
  (await client.get(`/v1/parts/${part}/prices`)).json<PriceCourse>();
const pricesOf = async (offer = 'ring-pack') =>
  ((await course()).offers.find((each) => each.offer === offer)?.prices ?? []).map(
    ({ from, until, lastSeen, price }) => [from, until, lastSeen, price.amount],
  );
const findings = (got: Got) =>
  got.json<{ findings: { code: string; at: string; todo: string }[] }>().findings;

describe('an offer that changes', () => {
  test('keeps its old prices, each with the days on which it was seen', async () => {
    await add({ seenOn: ago(30) });
    await put({ ...ringOffer, seenOn: ago(20) });
    await put({ ...ringOffer, seenOn: ago(10), packPrice: gbp('2.50') });
    expect(await pricesOf()).toEqual([
      [ago(30), ago(10), ago(20), '0.20'],
      [ago(10), undefined, ago(10), '0.25'],
    ]);
  });

  test('that is removed stays in the price course of its part, until the day on which it went', async () => {
    await add({ seenOn: ago(30) });
    await editor.delete('/v1/offers/ring-pack', { 'if-match': '*' });
    expect((await course()).offers).toMatchObject([
      { offer: 'ring-pack', supplierName: shop.name, prices: [{ until: today(), removed: true }] },
    ]);
    // Its prices hold nothing back: the part can go.
    expect((await editor.delete('/v1/parts/ring-6', { 'if-match': '*' })).status).toBe(204);
    expect((await editor.get('/v1/parts/ring-6/prices')).status).toBe(404);
  });

  test('is refused where it was seen before the stored price, and says what can be done', async () => {
    await add({ seenOn: ago(5) });
    const got = await put({ ...ringOffer, seenOn: ago(6), packPrice: gbp('1.00') });
    expect(got.status).toBe(422);
    expect(findings(got)).toMatchObject([{ code: 'older-price', at: '/seenOn', limit: ago(5) }]);
    expect(findings(got)[0]?.todo).toContain('?older=keep');
    expect(await stored()).toMatchObject({ seenOn: ago(5), packPrice: gbp('2.00') });
  });

  test('is kept as a past price where that is asked, and stays as it is itself', async () => {
    await add({ seenOn: ago(5) });
    const past = { ...ringOffer, seenOn: ago(9), packPrice: gbp('1.00') };
    const got = await put(past, { query: '?older=keep' });
    expect([got.status, got.json()]).toMatchObject([200, { seenOn: ago(5), packPrice: gbp('2.00') }]);
    expect(await pricesOf()).toEqual([
      [ago(9), ago(5), ago(9), '0.10'],
      [ago(5), undefined, ago(5), '0.20'],
    ]);
    const stale = await editor.put('/v1/offers/ring-pack?older=keep', past, { 'if-match': '"9-9"' });
    expect(stale.status).toBeGreaterThanOrEqual(400);
  });

  test('takes the place of a price that was put in with a wrong day, where that is asked', async () => {
    await add({ seenOn: ago(30) });
    await put({ ...ringOffer, seenOn: plusDays(today(), 300), packPrice: gbp('3.00') });
    const right = { ...ringOffer, seenOn: ago(1), packPrice: gbp('3.00') };
    expect((await put(right)).status).toBe(422);
    expect((await put(right, { query: '?older=correct' })).status).toBe(200);
    expect(await pricesOf()).toEqual([
      [ago(30), ago(1), ago(30), '0.20'],
      [ago(1), undefined, ago(1), '0.30'],
    ]);
  });
});

describe('seen again', () => {
  beforeEach(async () => {
    await add({ seenOn: ago(40) });
    await add({ code: 'ring-hundred', packCount: 100, packPrice: gbp('12.00'), seenOn: ago(3) });
  });

  test('moves the days of one offer or of many, and leaves their prices', async () => {
    const got = await editor.post('/v1/offers/seen', { offers: ['ring-pack', 'ring-hundred', 'ring-pack'] });
    expect(got.json()).toEqual({ on: today(), seen: ['ring-hundred', 'ring-pack'], already: [] });
    expect(await pricesOf()).toEqual([[ago(40), undefined, today(), '0.20']]);
    const again = await editor.post('/v1/offers/seen', { offers: ['ring-pack'] });
    expect(again.json()).toEqual({ on: today(), seen: [], already: ['ring-pack'] });
  });

  test('changes none while a code is unknown or a price was seen later', async () => {
    const got = await editor.post('/v1/offers/seen', {
      offers: ['ring-pack', 'ring-hundred', 'ring-none'],
      on: ago(10),
    });
    expect(got.status).toBe(422);
    expect(findings(got).map(({ code, at }) => [code, at])).toEqual([
      ['unknown-offer', '/offers/2'],
      ['older-price', '/offers/1'],
    ]);
    expect(await stored()).toMatchObject({ seenOn: ago(40) });
  });

  test('is not for a viewer, nor for the offers of another club', async () => {
    const viewer = await club.as('viewer');
    expect((await viewer.post('/v1/offers/seen', { offers: ['ring-pack'] })).status).toBe(403);
    const other = await (await house.club()).as('editor');
    expect((await other.post('/v1/offers/seen', { offers: ['ring-pack'] })).status).toBe(422);
    expect((await other.get('/v1/parts/ring-6/prices')).status).toBe(404);
  });
});

describe('the price course of a part', () => {
  beforeEach(async () => {
    await add({ seenOn: ago(30), breaks: [{ fromPacks: 5, packPrice: gbp('1.50') }] });
    await editor.post('/v1/suppliers', { code: 'abroad', name: 'Übersee <Kabel>', currency: 'EUR' });
    await editor.post('/v1/rates', { code: 'eur-1', currency: 'EUR', on: ago(25), rate: '0.80' });
    await editor.post('/v1/rates', { code: 'eur-2', currency: 'EUR', on: ago(15), rate: '0.90' });
    await add({
      code: 'ring-eur',
      supplier: 'abroad',
      packCount: 3,
      packPrice: { amount: '1.00', currency: 'EUR' },
      seenOn: ago(28),
    });
  });

  test('has each price in its own currency, and in the club’s from each day on which its rate changed', async () => {
    const { offers, withoutRate } = await course();
    expect(offers.map(({ offer }) => offer)).toEqual(['ring-eur', 'ring-pack']);
    expect(offers[1]?.prices[0]).toMatchObject({ unit: 'piece', price: gbp('0.20'), lowest: gbp('0.15') });
    // By hand: a third of a euro at 0.80, then at 0.90.
    expect(offers[0]?.prices[0]).toMatchObject({
      price: { amount: '0.333333', currency: 'EUR' },
      inClub: [
        { from: ago(25), price: gbp('0.266667'), rate: '0.80', rateOn: ago(25) },
        { from: ago(15), price: gbp('0.30'), rate: '0.90', rateOn: ago(15) },
      ],
    });
    expect(withoutRate).toMatchObject([{ currency: 'EUR' }]);
  });

  test('is a table where CSV is asked for, with a row for each price and rate', async () => {
    const got = await editor.get('/v1/parts/ring-6/prices', { accept: 'text/csv' });
    const [head, ...rows] = got.text.trimEnd().split('\r\n');
    expect(head).toMatch(/^offer,supplier,supplier name,from,until/);
    expect(rows.map((row) => row.split(',').slice(9, 14).join())).toEqual([
      '0.333333,,EUR,,',
      '0.333333,,EUR,0.266667,GBP',
      '0.333333,,EUR,0.30,GBP',
      '0.20,0.15,GBP,0.20,GBP',
    ]);
  });

  test('is a picture where SVG is asked for, with all that it shows in words', async () => {
    const got = await editor.get('/v1/parts/ring-6/prices?format=svg');
    expect(got.headers.get('content-type')).toBe('image/svg+xml');
    expect(got.text).toMatch(/^<svg\s+xmlns="http:\/\/www.w3.org\/2000\/svg"\s+role="img"/);
    expect(got.text).toContain('Price of one piece, GBP');
    expect(got.text).toContain('Price of one piece, EUR');
    expect(got.text).toContain(
      `Übersee &lt;Kabel&gt;, offer ring-eur: 0.266667 from ${ago(25)}, 0.30 from ${ago(15)}.`,
    );
    expect((await editor.get('/v1/parts/ring-6/prices', { accept: 'image/png' })).status).toBe(406);
  });
});

describe('of a finished quote', () => {
  let quote: string;

  beforeEach(async () => {
    club = await house.club();
    editor = await club.as('editor');
    await loadSmall(editor);
    await add({ code: 'ring-other', packPrice: gbp('9.00'), seenOn: ago(200) });
    const asked = await askQuote(editor, 'loom');
    await untilTask(house.database, asked.task, { state: 'done' });
    ({ quote } = asked);
  });
  const atToday = async () => (await editor.get(`/v1/quotes/${quote}/today`)).json<QuoteToday>();

  test('the goods are compared with today, line by line, and summed', async () => {
    const before = await atToday();
    expect(before.lines.map(({ state }) => state)).toEqual(before.lines.map(() => 'same'));
    expect(before.compared.difference).toEqual(gbp('0.00'));
    await put({ ...ringOffer, packPrice: gbp('2.50') });
    const after = await atToday();
    expect(after.lines.find(({ offer }) => offer === 'ring-pack')).toMatchObject({
      state: 'dearer',
      then: gbp('2.00'),
      today: gbp('2.50'),
      percent: '25',
    });
    expect(after.compared.difference).toEqual(gbp('0.50'));
    // Three rings: one pack of ten then, two packs of two today.
    await put({ ...ringOffer, packCount: 5, packPrice: gbp('0.90') });
    expect((await atToday()).lines.find(({ offer }) => offer === 'ring-pack')).toMatchObject({
      state: 'cheaper',
      boughtToday: { packs: 2, packCount: 5, pieces: 10 },
      today: gbp('1.80'),
    });
    await editor.delete('/v1/offers/ring-pack', { 'if-match': '*' });
    const gone = await atToday();
    expect(gone.lines.find(({ offer }) => offer === 'ring-pack')).toMatchObject({ state: 'notCompared' });
    expect(gone.notCompared).toEqual({ lines: 1, then: gbp('2.00') });
  });

  test('stale offers are listed by age with the quotes that buy them', async () => {
    await editor.post('/v1/offers/seen', { offers: ['ring-pack'], on: ago(100) });
    const all = await editor.get('/v1/stale-offers?days=90');
    const items = all.json<{ items: { offer: string; days?: number; quotes: { id: string }[] }[] }>().items;
    expect(items.map(({ offer, days }) => [offer, days])).toEqual([
      ['red-metre', undefined],
      ['ring-other', 200],
      ['ring-pack', 100],
    ]);
    expect(items[2]?.quotes.map(({ id }) => id)).toEqual([quote]);
    const used = (await editor.get('/v1/stale-offers?days=90&usedBy=quotes')).json<{
      items: { offer: string }[];
    }>();
    expect(used.items.map(({ offer }) => offer)).toEqual(['red-metre', 'ring-pack']);
    const page = (await editor.get('/v1/stale-offers?limit=2')).json<{ next: string }>();
    const rest = (await editor.get(`/v1/stale-offers?limit=2&cursor=${page.next}`)).json<{
      items: { offer: string }[];
    }>();
    expect(rest.items.map(({ offer }) => offer)).toEqual(['ring-pack']);
  });
});

describe('a price list', () => {
  const HEAD = 'code,sold by,part,price,pieces in a pack';
  const send = async (lines: string[], query = ''): Promise<PriceListImport> => {
    const got = await editor.send('POST', `/v1/suppliers/shop/price-list${query}`, {
      headers: { 'content-type': 'text/csv' },
      body: [HEAD, ...lines].join('\n'),
    });
    expect(got.status).toBe(200);
    return got.json<PriceListImport>();
  };
  const rows = (count: number, price: (at: number) => string) =>
    Array.from({ length: count }, (_, at) => `r${String(at).padStart(4, '0')},pack,ring-6,${price(at)},10`);

  test('says what rises and falls and by how much, what is new, seen again, and gone', async () => {
    await send(
      rows(600, () => '2.00'),
      `?seenOn=${ago(9)}`,
    );
    // Of 600 the last 100 are missing, 50 are new; every fifth rises, every fifth and one falls.
    const next = [
      ...rows(500, (at) => (at % 5 === 0 ? '2.50' : at % 5 === 1 ? '1.50' : '2.00')),
      ...Array.from({ length: 50 }, (_, at) => `n${at},pack,ring-6,4.00,10`),
    ];
    const preview = await send(next, '?preview=true&rows=1000');
    const told = await send(next, '?rows=1000');
    expect({ ...preview, written: true }).toEqual(told);
    expect(told).toMatchObject({
      rises: 100,
      falls: 100,
      new: 50,
      seenAgain: 300,
      otherwise: 0,
      unchanged: 0,
      gone: 100,
      removed: 0,
      faults: 0,
    });
    expect(told.prices[0]).toEqual({
      offer: 'r0000',
      what: 'rises',
      unit: 'piece',
      before: gbp('0.20'),
      after: gbp('0.25'),
      percent: '25',
    });
    expect(told.prices.map(({ what }) => what).filter((what) => what === 'new')).toHaveLength(50);
    const again = await send(next, '?gone=remove');
    expect(again).toMatchObject({ unchanged: 550, rises: 0, seenAgain: 0, gone: 100, removed: 100 });
    expect((await editor.get('/v1/offers/r0599')).status).toBe(404);
    expect((await send(next)).gone).toBe(0);
  });

  test('removes nothing while it has faults, and leaves the offers of others', async () => {
    await editor.post('/v1/suppliers', { ...shop, code: 'other' });
    await add({ code: 'theirs', supplier: 'other' });
    await add({});
    const told = await send(['theirs,pack,ring-6,1.00,10'], '?gone=remove');
    expect(told).toMatchObject({ faults: 1, gone: 1, removed: 0, goneCodes: ['ring-pack'] });
    expect(told.rows[0]?.faults).toMatchObject([{ code: 'other-supplier' }]);
    expect(await stored('theirs')).toMatchObject({ packPrice: gbp('2.00') });
  });

  test('tells rows that were seen before the stored price', async () => {
    await add({ seenOn: ago(2) });
    const told = await send(['ring-pack,pack,ring-6,1.00,10'], `?seenOn=${ago(5)}`);
    expect(told.rows[0]?.faults).toMatchObject([{ code: 'older-price', column: 'seen on' }]);
  });

  test('is of a supplier that is there, and of an editor', async () => {
    const csv = { headers: { 'content-type': 'text/csv' }, body: HEAD };
    expect((await editor.send('POST', '/v1/suppliers/none/price-list', csv)).status).toBe(404);
    const member = await club.as('member');
    expect((await member.send('POST', '/v1/suppliers/shop/price-list', csv)).status).toBe(403);
  });
});
