import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { TableImport } from '../../api/tables/summary.ts';
import type { Client, Got } from '../support/client.ts';
import { exampleJob } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { storeJob } from '../support/storeJob.ts';
import { lanes, rates } from '../support/terms.ts';

let house: TestHouse;
/** A club with the van, its catalogue and its terms. */
let club: TestClub;
let editor: Client;

const van = exampleJob('van');
const vanLoom = van.looms[0]?.code ?? '';
/** What names others comes after them. */
const CATALOGUE = ['parts', 'suppliers', 'offers', 'stock', 'fits', 'rates', 'lanes'] as const;

beforeAll(async () => {
  house = await openHouse({ bodyBytes: 2 * 1024 ** 2 });
  club = await house.club();
  editor = await club.as('editor');
  const [first = '', second = ''] = van.parts.map(({ code }) => code);
  await storeJob(club, {
    ...van,
    rates,
    lanes,
    fits: [{ from: first, relation: 'standsInFor', to: second, by: 'Zoë' }],
    stock: [{ code: 'shelf', form: 'pieces', part: first, count: 3 }],
  });
});
afterAll(() => house.close());

const CSV = { 'content-type': 'text/csv' };
const lines = (...rows: string[]) => `${rows.join('\r\n')}\r\n`;
const sent = (
  client: Client,
  path: string,
  body: string | Uint8Array,
  headers: Record<string, string> = {},
) => client.send('POST', path, { body, headers: { ...CSV, ...headers } });
const told = (got: Got) => got.json<TableImport>();
const counts = ({ new: fresh, changed, unchanged, faults, written }: TableImport) => ({
  new: fresh,
  changed,
  unchanged,
  faults,
  written,
});
const exported = async (client: Client, path: string) => (await client.get(`${path}?format=csv`)).text;

/** A club of its own with one supplier and one part. */
async function small(currency = 'GBP') {
  const own = await house.club(currency);
  const client = await own.as('editor');
  await sent(client, '/v1/suppliers/table', lines('code,name,currency', `ash,Ash,${currency}`));
  await sent(
    client,
    '/v1/parts/table',
    lines('code,kind,description,terminal type', 'ring-6,terminal,Ring,ring'),
  );
  return { own, client };
}

const OFFERS = 'code,supplier,sold by,part,price,pieces in a pack';
const offer = (code: string, more: { price?: string; part?: string; supplier?: string } = {}) =>
  `${code},${more.supplier ?? 'ash'},pack,${more.part ?? 'ring-6'},${more.price ?? '2.40'},10`;

describe('a list of the catalogue', () => {
  test('comes back as it went out, and fills another club alike', async () => {
    const other = await (await house.club()).as('editor');
    const listed = async (client: Client, name: string) =>
      (await client.get(`/v1/${name}?limit=500`)).json<{ items: unknown[] }>();
    for (const name of CATALOGUE) {
      const csv = await exported(editor, `/v1/${name}`);
      const all = await listed(editor, name);
      const count = all.items.length;
      expect([name, count > 0]).toEqual([name, true]);
      const again = counts(told(await sent(editor, `/v1/${name}/table`, csv)));
      expect(again).toEqual({ new: 0, changed: 0, unchanged: count, faults: 0, written: true });
      const first = counts(told(await sent(other, `/v1/${name}/table`, csv)));
      expect(first).toEqual({ new: count, changed: 0, unchanged: 0, faults: 0, written: true });
      expect(await listed(other, name)).toEqual(all);
      expect(await exported(other, `/v1/${name}`)).toBe(csv);
    }
  });

  test('is read as a table by its Accept header, whole however long it is, with the name of a file', async () => {
    const own = await (await house.club()).as('editor');
    const rows = Array.from(
      { length: 1_203 },
      (_, at) => `shop-${String(at).padStart(4, '0')},Shop ${at},GBP`,
    );
    await sent(own, '/v1/suppliers/table', lines('code,name,currency', ...rows));
    const got = await own.get('/v1/suppliers', { accept: 'text/csv' });
    expect(got.headers.get('content-disposition')).toBe('attachment; filename="suppliers.csv"');
    expect(got.headers.get('content-type')).toBe('text/csv; charset=utf-8');
    const codes = got.text
      .split('\r\n')
      .slice(1, -1)
      .map((row) => row.split(',')[0]);
    expect(codes).toEqual(rows.map((row) => row.split(',')[0]));
    for (const accept of ['application/json', 'text/csv;q=0.1, application/json', '*/*', 'text/csv;q=0, */*'])
      expect((await own.get('/v1/suppliers', { accept })).headers.get('content-type')).toBe(
        'application/json',
      );
    expect((await own.get('/v1/suppliers?format=csv&limit=3')).status).toBe(422);
    const head = await own.send('HEAD', '/v1/suppliers?format=csv');
    expect([head.status, head.headers.get('content-type')]).toEqual([200, 'text/csv; charset=utf-8']);
  });

  test('has a template that says nothing when it is sent as it is', async () => {
    for (const name of CATALOGUE) {
      const template = (await editor.get(`/v1/${name}?format=template`)).text;
      expect(template).toMatch(/^[^\n]+\r\n"?# /);
      const got = told(await sent(editor, `/v1/${name}/table`, template));
      expect({ ...counts(got), file: got.file }).toEqual({
        new: 0,
        changed: 0,
        unchanged: 0,
        faults: 0,
        written: true,
        file: [],
      });
    }
  });
});

describe('a table that is sent', () => {
  test('adds, changes and leaves alone, and tells each row; versions and records are as of single changes', async () => {
    const { own, client } = await small();
    await sent(client, '/v1/offers/table', lines(OFFERS, offer('a'), offer('b')));
    const before = (await client.get('/v1/offers/a')).headers.get('etag') ?? '';
    const got = told(
      await sent(
        client,
        '/v1/offers/table',
        lines(OFFERS, offer('a', { price: '2.50' }), offer('b'), offer('c')),
      ),
    );
    expect(counts(got)).toEqual({ new: 1, changed: 1, unchanged: 1, faults: 0, written: true });
    expect(got.rows).toEqual([
      { row: 2, code: 'a', result: 'changed', changes: [{ column: 'price', before: '2.40', after: '2.50' }] },
      { row: 3, code: 'b', result: 'unchanged' },
      { row: 4, code: 'c', result: 'new' },
    ]);
    const a = await client.get('/v1/offers/a');
    expect(a.json()).toMatchObject({ packPrice: { amount: '2.50', currency: 'GBP' }, packCount: 10 });
    expect(before).toMatch(/^"1-/);
    expect(a.headers.get('etag')).toBe(before.replace('"1-', '"2-'));
    // What an offer sells is kept: the part stays while it is sold.
    const ring = (await client.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    expect((await client.delete('/v1/parts/ring-6', { 'if-match': ring })).status).toBe(409);
    const admin = await own.as('admin');
    const archive = await admin.get('/v1/club/archive');
    expect(archive.status).toBe(200);
  });

  test('writes nothing with preview, and tells the same as without', async () => {
    const { client } = await small();
    await sent(client, '/v1/offers/table', lines(OFFERS, offer('a')));
    const table = lines(
      OFFERS,
      offer('a', { price: '3' }),
      offer('b', { part: 'pvc-vehicle 14/0.30 green/white' }),
      offer('c', { price: 'dear' }),
    );
    const before = await exported(client, '/v1/offers');
    const preview = told(await sent(client, '/v1/offers/table?preview=true', table));
    expect(await exported(client, '/v1/offers')).toBe(before);
    expect((await client.get('/v1/parts/pvc-vehicle-14-0.30-green-white')).status).toBe(404);
    const done = told(await sent(client, '/v1/offers/table', table));
    expect(preview).toEqual({ ...done, written: false });
    expect(counts(done)).toEqual({ new: 1, changed: 1, unchanged: 0, faults: 1, written: true });
  });

  test('tells each fault by row and column and writes the other rows; none, where all or nothing is asked', async () => {
    const { client } = await small();
    const table = lines(
      OFFERS,
      offer('a'),
      offer('b', { part: 'ring-7', supplier: 'elm' }),
      offer('c', { price: '"1,200"' }),
      offer('a'),
    );
    const none = told(await sent(client, '/v1/offers/table?allOrNothing=true', table));
    expect(counts(none)).toEqual({ new: 1, changed: 0, unchanged: 0, faults: 3, written: false });
    expect((await client.get('/v1/offers')).json()).toEqual({ items: [], next: null });
    const got = told(await sent(client, '/v1/offers/table', table));
    const faults = got.rows.flatMap(({ faults = [] }) => faults);
    expect(faults.map(({ row, column, code, found }) => [row, column, code, found])).toEqual([
      [3, 'supplier', 'unknown-supplier', '"elm"'],
      [3, 'part', 'unknown-part', '"ring-7"'],
      [4, 'price', 'two-readings', '"1,200"'],
      [5, 'code', 'duplicate-row', '"a"'],
    ]);
    expect(faults.every(({ todo }) => todo.length > 10)).toBe(true);
    const items = (await client.get('/v1/offers')).json<{ items: { code: string }[] }>().items;
    expect(items.map(({ code }) => code)).toEqual(['a']);
  });

  test('of offers adds the wires that good rows name, and tells them', async () => {
    const { client } = await small();
    const metre = (code: string, part: string, supplier = 'ash') => `${code},${supplier},metre,${part},0.42`;
    const got = told(
      await sent(
        client,
        '/v1/offers/table',
        lines(
          'code,supplier,sold by,part,price',
          metre('a', 'pvc-vehicle 14/0.30 green/white'),
          metre('b', 'pvc-vehicle 14/0.30 green/white'),
          metre('c', 'pvc-vehicle 14/0.30 red', 'elm'),
        ),
      ),
    );
    const code = 'pvc-vehicle-14-0.30-green-white';
    expect([got.wires, got.faults]).toEqual([{ added: 1, codes: [code] }, 1]);
    expect((await client.get(`/v1/parts/${code}`)).json()).toMatchObject({
      kind: 'wire',
      cableType: 'pvc-vehicle',
      colour: { base: 'green', tracer: 'white' },
    });
    expect((await client.get('/v1/parts/pvc-vehicle-14-0.30-red')).status).toBe(404);
  });

  test('of offers takes supplier, currency, condition and day from the query where rows do not state their own', async () => {
    const { client } = await small();
    await sent(client, '/v1/suppliers/table', lines('code,name,currency', 'elm,Elm,GBP'));
    const table = lines(
      'code;supplier;sold by;part;price;pieces in a pack;condition;seen on',
      'a;;pack;ring-6;2,40;10;;',
      'b;elm;pack;ring-6;2,40 GBP;10;new;2026-10-01',
    );
    const query =
      'supplier=ash&currency=EUR&condition=oldStock&seenOn=2026-11-02&decimalComma=true&separator=semicolon';
    expect(counts(told(await sent(client, `/v1/offers/table?${query}`, table)))).toMatchObject({ new: 2 });
    expect((await client.get('/v1/offers/a')).json()).toMatchObject({
      supplier: 'ash',
      condition: 'oldStock',
      seenOn: '2026-11-02',
      packPrice: { amount: '2.40', currency: 'EUR' },
    });
    expect((await client.get('/v1/offers/b')).json()).toMatchObject({
      supplier: 'elm',
      condition: 'new',
      seenOn: '2026-10-01',
      packPrice: { amount: '2.40', currency: 'GBP' },
    });
    expect((await sent(client, '/v1/parts/table?supplier=ash', lines('code'))).status).toBe(422);
  });

  test('is refused, row by row, where single entries would be: kinds in use, clashes, the club’s own currency', async () => {
    const { client } = await small();
    await sent(client, '/v1/offers/table', lines(OFFERS, offer('a')));
    const kind = told(
      await sent(
        client,
        '/v1/parts/table',
        lines('code,kind,description', 'ring-6,consumable,Ring', 'flux,consumable,Flux'),
      ),
    );
    expect(counts(kind)).toMatchObject({ new: 1, faults: 1 });
    expect(kind.rows[0]?.faults).toMatchObject([{ row: 2, column: 'kind', code: 'kind-in-use' }]);
    const rate = (code: string, currency: string) => `${code},${currency},2026-11-02,0.85`;
    const head = 'code,currency,on,rate';
    const first = told(
      await sent(
        client,
        '/v1/rates/table',
        lines(head, rate('a', 'EUR'), rate('b', 'EUR'), rate('c', 'GBP')),
      ),
    );
    expect(
      first.rows.map(({ code, result, faults = [] }) => [code, result, faults.map((each) => each.column)]),
    ).toEqual([
      ['b', 'fault', ['on']],
      ['c', 'fault', ['currency']],
      ['a', 'new', []],
    ]);
    const second = told(
      await sent(client, '/v1/rates/table', lines(head, rate('d', 'EUR'), rate('a', 'EUR'))),
    );
    expect(counts(second)).toMatchObject({ new: 0, unchanged: 1, faults: 1 });
    expect(second.rows[0]?.faults?.[0]?.todo).toContain('already exists: a.');
    const lane = told(
      await sent(client, '/v1/lanes/table', lines('code,from,to', 'x,DE,GB', 'y,DE,GB', 'z,GB,DE')),
    );
    expect(counts(lane)).toMatchObject({ new: 2, faults: 1 });
  });

  test('has texts that look like formulas back as they were', async () => {
    const { client } = await small();
    const notes = ['=1+1', '+44 1234', '-x', '@me', '\tx', "'quoted", '# not a note', '"; DROP TABLE'];
    for (const [at, note] of notes.entries())
      await client.post('/v1/suppliers', { code: `s${at}`, name: 'Shop', currency: 'GBP', note });
    const csv = await exported(client, '/v1/suppliers');
    expect(csv).not.toMatch(/(^|,|")[=+@]/m);
    const other = await (await house.club()).as('editor');
    await sent(other, '/v1/suppliers/table', csv);
    for (const [at, note] of notes.entries())
      expect((await other.get(`/v1/suppliers/s${at}`)).json()['note']).toBe(note);
  });
});

describe('a body that is no table', () => {
  const head = 'code,name,currency';

  test.each([
    ['of another type', { 'content-type': 'application/json' }, 415],
    ['in an encoding that is not read', { 'content-type': 'text/csv; charset=iso-8859-1' }, 415],
    ['that is packed', { ...CSV, 'content-encoding': 'gzip' }, 415],
    ['that says to be too long', { ...CSV, 'content-length': '3000000' }, 413],
  ])('%s is refused before it is read', async (_what, headers, status) => {
    expect((await sent(editor, '/v1/suppliers/table', lines(head, 'x,X,GBP'), headers)).status).toBe(status);
    expect((await editor.get('/v1/suppliers/x')).status).toBe(404);
  });

  test('is refused where it is too long, whatever it says', async () => {
    const long = lines(
      head,
      ...Array.from({ length: 60_000 }, (_, at) => `long-${at},A long name of a shop,GBP`),
    );
    expect((await sent(editor, '/v1/suppliers/table', long)).status).toBe(413);
  });

  test.each([
    ['Latin-1 bytes', Buffer.from(lines(head, 'x,Zoë,GBP'), 'latin1'), 'wrong-encoding'],
    ['NUL in its column names', `code,na\0me\n`, 'wrong-encoding'],
    ['nothing in it', '', 'empty-file'],
    ['an unknown column', lines('code,nam', 'x,X'), 'unknown-column'],
  ])('is told where it has %s', async (_what, body, code) => {
    const got = told(await sent(editor, '/v1/suppliers/table', body));
    expect(got.file.map((finding) => finding.code)).toEqual([code]);
    expect([got.complete, got.new]).toEqual([false, 0]);
  });

  test('stores no characters that no database stores, however they are written', async () => {
    const { client } = await small();
    const escaped = String.raw`"[{""part"":""a\u0000b"",""quantity"":1}]"`;
    const got = told(
      await sent(
        client,
        '/v1/suppliers/table',
        lines('code,name,currency,note', 'x,X\0,GBP,', 'y,Y,GBP,fine', String.raw`z,Z,GBP,\u0000`),
      ),
    );
    expect(counts(got)).toMatchObject({ new: 2, faults: 1 });
    const kit = told(
      await sent(
        client,
        '/v1/offers/table',
        lines('code,supplier,sold by,contents,price', `k,ash,kit,${escaped},1`),
      ),
    );
    expect(counts(kit)).toMatchObject({ new: 0, faults: 1 });
    const postage = String.raw`"{""by"":""\ud800""}"`;
    const half = told(
      await sent(client, '/v1/suppliers/table', lines('code,name,currency,postage', `h,H,GBP,${postage}`)),
    );
    expect(half.faults).toBe(1);
  });
});

describe('a key', () => {
  test('of a viewer reads tables and sends none', async () => {
    const viewer = await club.as('viewer');
    for (const name of CATALOGUE) {
      expect((await viewer.get(`/v1/${name}?format=csv`)).status).toBe(200);
      expect((await sent(viewer, `/v1/${name}/table?preview=true`, 'code')).status).toBe(403);
    }
    expect((await viewer.get(`/v1/looms/${vanLoom}/tables/wires`)).status).toBe(200);
    expect((await sent(viewer, `/v1/looms/${vanLoom}/tables/wires`, 'wire')).status).toBe(403);
  });

  test('of another club sees nothing and changes nothing', async () => {
    const other = await (await house.club()).as('editor');
    const code = van.suppliers[0]?.code ?? '';
    const before = (await editor.get(`/v1/suppliers/${code}`)).text;
    expect((await exported(other, '/v1/offers')).split('\r\n').slice(1)).toEqual(['']);
    const got = told(
      await sent(other, '/v1/suppliers/table', lines('code,name,currency', `${code},Theirs,GBP`)),
    );
    expect(counts(got)).toMatchObject({ new: 1, changed: 0 });
    expect((await editor.get(`/v1/suppliers/${code}`)).text).toBe(before);
    expect((await other.get(`/v1/looms/${vanLoom}/tables/wires`)).status).toBe(404);
  });
});
