import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { gbp, redOffer, redWire, ring, ringOffer, shop } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let viewer: Client;

beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  viewer = await club.as('viewer');
});
afterAll(() => house.close());

const tagOf = async (path: string) => (await editor.get(path)).headers.get('etag') ?? '';
const removed = async (path: string) => editor.delete(path, { 'if-match': await tagOf(path) });

describe('a part', () => {
  test('is added, read back in the shape it was sent, and found in the list', async () => {
    const added = await editor.post('/v1/parts', ring);
    expect(added.status).toBe(201);
    expect(added.headers.get('location')).toBe('/v1/parts/ring-6');
    const read = await viewer.get('/v1/parts/ring-6');
    expect(read.json()).toEqual(ring);
    expect(read.headers.get('etag')).toBe(added.headers.get('etag'));
    expect((await viewer.get('/v1/parts')).json<{ items: unknown[] }>().items).toContainEqual(ring);
  });

  test('of a code in use is refused with 409, and the stored one stays', async () => {
    const again = await editor.post('/v1/parts', { ...ring, description: 'Another' });
    expect(again.status).toBe(409);
    expect((await viewer.get('/v1/parts/ring-6')).json()['description']).toBe(ring.description);
  });

  test('is not sent again to a reader who has it', async () => {
    const { headers } = await viewer.get('/v1/parts/ring-6');
    expect(
      (await viewer.get('/v1/parts/ring-6', { 'if-none-match': headers.get('etag') ?? '' })).status,
    ).toBe(304);
    expect((await viewer.get('/v1/parts/ring-6', { 'if-none-match': '"999"' })).status).toBe(200);
  });

  test('is replaced by whoever has read it last, and by nobody else', async () => {
    const etag = (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    const changed = { ...ring, description: 'Ring for an M6 stud' };
    expect((await editor.put('/v1/parts/ring-6', changed)).status).toBe(428);
    expect((await editor.put('/v1/parts/ring-6', changed, { 'if-match': etag })).status).toBe(200);
    const stale = await editor.put(
      '/v1/parts/ring-6',
      { ...ring, description: 'Lost' },
      { 'if-match': etag },
    );
    expect(stale.status).toBe(412);
    expect((await viewer.get('/v1/parts/ring-6')).json()['description']).toBe('Ring for an M6 stud');
  });

  test('matches no weak tag and no tag of another kind', async () => {
    const etag = (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    for (const tag of [`W/${etag}`, 'anything', '"x"', `"x", W/${etag}`])
      expect((await editor.put('/v1/parts/ring-6', ring, { 'if-match': tag })).status).toBe(412);
  });

  test('is changed where one of several tags is its own, and by * whatever its state, if it is there (RFC 9110 §13.1.1)', async () => {
    const etag = async () => (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    const first = await etag();
    expect((await editor.put('/v1/parts/ring-6', ring, { 'if-match': `"x", ${first}, W/"y"` })).status).toBe(
      200,
    );
    expect(await etag()).not.toBe(first);
    expect((await editor.put('/v1/parts/ring-6', ring, { 'if-match': `${first}, "1-zzz"` })).status).toBe(
      412,
    );
    const second = await etag();
    expect((await editor.put('/v1/parts/ring-6', ring, { 'if-match': '*' })).status).toBe(200);
    expect(await etag()).not.toBe(second);
    const nothing = { ...ring, code: 'nothing' };
    expect((await editor.put('/v1/parts/nothing', nothing, { 'if-match': '*' })).status).toBe(404);
  });

  test('keeps its code: a body of another code is refused at the pointer', async () => {
    const etag = (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    const got = await editor.put('/v1/parts/ring-6', { ...ring, code: 'ring-8' }, { 'if-match': etag });
    expect(got.status).toBe(422);
    expect(got.json<{ findings: { at: string }[] }>().findings.map((finding) => finding.at)).toEqual([
      '/code',
    ]);
  });

  test('is removed only with the ETag that was read, and then is gone', async () => {
    await editor.post('/v1/parts', { ...ring, code: 'short-lived' });
    expect((await editor.delete('/v1/parts/short-lived')).status).toBe(428);
    expect((await editor.delete('/v1/parts/short-lived', { 'if-match': '"7-abc"' })).status).toBe(412);
    expect((await removed('/v1/parts/short-lived')).status).toBe(204);
    expect((await editor.get('/v1/parts/short-lived')).status).toBe(404);
  });
});

describe('an offer', () => {
  test('names all that is missing at once: its supplier and its part', async () => {
    const got = await editor.post('/v1/offers', { ...ringOffer, supplier: 'nobody', part: 'nothing' });
    expect(got.status).toBe(422);
    const findings = got.json<{ findings: { at: string; code: string; todo: string }[] }>().findings;
    expect(findings.map(({ at, code }) => `${code} ${at}`).sort()).toEqual([
      'unknown-part /part',
      'unknown-supplier /supplier',
    ]);
    expect(findings.every(({ todo }) => todo.length > 10)).toBe(true);
  });

  test('keeps its supplier and its part from being removed, until it is removed itself', async () => {
    await editor.post('/v1/suppliers', shop);
    await editor.post('/v1/offers', ringOffer);
    const partTag = (await editor.get('/v1/parts/ring-6')).headers.get('etag') ?? '';
    const part = await editor.delete('/v1/parts/ring-6', { 'if-match': partTag });
    expect(part.status).toBe(409);
    expect(part.json()['detail']).toMatch(/offer/i);
    expect((await removed('/v1/suppliers/shop')).status).toBe(409);
    expect((await removed('/v1/offers/ring-pack')).status).toBe(204);
    expect((await removed('/v1/suppliers/shop')).status).toBe(204);
  });

  test('that changes what it sells lets the old part go', async () => {
    await editor.post('/v1/suppliers', shop);
    await editor.post('/v1/parts', { ...ring, code: 'ring-8' });
    await editor.post('/v1/offers', { ...ringOffer, code: 'swap', part: 'ring-8' });
    expect((await removed('/v1/parts/ring-8')).status).toBe(409);
    const swapped = { ...ringOffer, code: 'swap' };
    const etag = await tagOf('/v1/offers/swap');
    expect((await editor.put('/v1/offers/swap', swapped, { 'if-match': etag })).status).toBe(200);
    expect((await removed('/v1/parts/ring-8')).status).toBe(204);
  });

  test('is answered with its defaults filled in', async () => {
    await editor.post('/v1/parts', redWire);
    const got = await editor.post('/v1/offers', redOffer);
    expect(got.json()).toEqual({ ...redOffer, condition: 'new', minimumMm: 1000, stepMm: 1000 });
  });

  test.each([
    [
      'overlapping breaks',
      { breaks: [5, 5].map((fromPacks) => ({ fromPacks, packPrice: gbp('1.50') })) },
      '/breaks/1/fromPacks',
    ],
    ['an empty pack', { packCount: 0 }, '/packCount'],
    ['a currency that is none', { packPrice: { amount: '1.00', currency: 'XQX' } }, '/packPrice/currency'],
    ['a price with seven decimals', { packPrice: gbp('1.0000001') }, '/packPrice/amount'],
    ['a price below nothing', { packPrice: gbp('-1.00') }, '/packPrice/amount'],
    ['a field that is not there', { colour: 'red' }, '/colour'],
  ])('with %s is refused at its pointer and not stored', async (_what, change, at) => {
    const got = await editor.post('/v1/offers', { ...ringOffer, code: 'bad', ...change });
    expect(got.status).toBe(422);
    expect(got.json<{ findings: { at: string }[] }>().findings.map((finding) => finding.at)).toEqual([at]);
    expect((await viewer.get('/v1/offers/bad')).status).toBe(404);
  });
});

describe('a code that is used again after a removal', () => {
  test('has another ETag, so that a tag of the old thing changes nothing of the new one', async () => {
    const clip = { ...ring, code: 'clip-again' };
    await editor.post('/v1/parts', clip);
    const before = await tagOf('/v1/parts/clip-again');
    await removed('/v1/parts/clip-again');
    await editor.post('/v1/parts', clip);
    const changed = await editor.put('/v1/parts/clip-again', clip, { 'if-match': before });
    expect(changed.status).toBe(412);
    expect((await editor.delete('/v1/parts/clip-again', { 'if-match': before })).status).toBe(412);
  });
});

describe('the kind of a part', () => {
  const boot = { kind: 'boot', code: 'boot-1', description: 'Boot' };
  const toCover = async () =>
    editor.put(
      '/v1/parts/boot-1',
      { ...boot, kind: 'cover' },
      { 'if-match': await tagOf('/v1/parts/boot-1') },
    );

  test('may be put right while nothing names the part, and stays once an offer or a loom does', async () => {
    await editor.post('/v1/parts', boot);
    expect((await toCover()).status).toBe(200);
    await removed('/v1/parts/boot-1');
    await editor.post('/v1/parts', boot);
    await editor.post('/v1/suppliers', shop);
    await editor.post('/v1/offers', { ...ringOffer, code: 'boots', part: 'boot-1' });
    const sold = await toCover();
    expect([sold.status, sold.json()['detail']]).toEqual([409, expect.stringContaining('an offer')]);
    await removed('/v1/offers/boots');
    const parts = [{ part: 'boot-1', quantity: 1 }];
    expect((await editor.post('/v1/looms', { code: 'boots', name: 'Boots', parts })).status).toBe(201);
    const used = await toCover();
    expect([used.status, used.json()['detail']]).toEqual([409, expect.stringContaining('a loom')]);
  });
});

describe('a list', () => {
  test('comes in pages in byte order, each entry once, by Link header and by body alike', async () => {
    const own = await house.club();
    const mine = await own.as('editor');
    const codes = ['b', 'B', 'a1', 'a-1', 'a.1', 'Z9', '0x', 'a_1'];
    for (const code of codes) await mine.post('/v1/parts', { ...ring, code });
    const seen: string[] = [];
    let path: string | null = '/v1/parts?limit=3';
    while (path !== null) {
      const page = await mine.get(path);
      const body = page.json<{ items: { code: string }[]; next: string | null }>();
      seen.push(...body.items.map((item) => item.code));
      const link = /<([^>]+)>; rel="next"/.exec(page.headers.get('link') ?? '')?.[1] ?? null;
      expect(link === null).toBe(body.next === null);
      path = link;
    }
    // Byte order is the order of Buffer.compare.
    expect(seen).toEqual([...codes].sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b))));
  });

  test.each(['limit=0', 'limit=501', 'limit=x', 'cursor=***', 'page=2'])(
    'refuses the query %s with 422',
    async (query) => {
      expect((await viewer.get(`/v1/parts?${query}`)).status).toBe(422);
    },
  );
});
