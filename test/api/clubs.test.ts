import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { loadSmall, oneWireLoom, redOffer, ring, shop } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let ours: TestClub;
let theirs: TestClub;

beforeAll(async () => {
  house = await openHouse();
  ours = await house.club();
  theirs = await house.club();
  await loadSmall(await ours.as('editor'));
});
afterAll(() => house.close());

describe('another club', () => {
  test('sees none of ours: each thing is the same 404 as one that does not exist', async () => {
    const stranger = await theirs.as('admin');
    const quote = await (
      await ours.as('member')
    ).post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
    const { id, task } = quote.json<{ id: string; task: string }>();
    const paths = [
      ['/v1/parts/ring-6', '/v1/parts/no-such'],
      ['/v1/suppliers/shop', '/v1/suppliers/no-such'],
      ['/v1/offers/red-metre', '/v1/offers/no-such'],
      ['/v1/looms/loom', '/v1/looms/no-such'],
      ['/v1/looms/loom/revisions/1', '/v1/looms/no-such/revisions/1'],
      [`/v1/quotes/${id}`, '/v1/quotes/01890000-0000-7000-8000-000000000000'],
      [`/v1/quotes/${id}/result`, '/v1/quotes/01890000-0000-7000-8000-000000000000/result'],
      [task, '/v1/tasks/01890000-0000-7000-8000-000000000000'],
      [`${task}/events`, '/v1/tasks/01890000-0000-7000-8000-000000000000/events'],
    ] as const;
    for (const [path, nowhere] of paths) {
      const got = await stranger.get(path);
      const none = await stranger.get(nowhere);
      expect([path, got.status]).toEqual([path, 404]);
      const shape = ({ text }: { text: string }) =>
        text
          .replaceAll(/"requestId":"[^"]*"/g, '')
          .replaceAll(/[0-9a-f-]{36}|ring-6|shop|red-metre|\bloom\b(?= ?["./])|no-such|loom(?=\.)/g, '_');
      expect(shape(got)).toBe(shape(none));
    }
    for (const list of ['parts', 'suppliers', 'offers', 'looms', 'quotes'])
      expect((await stranger.get(`/v1/${list}`)).json()).toEqual({ items: [], next: null });
  });

  test('cannot change, remove, cancel or name ours', async () => {
    const stranger = await theirs.as('admin');
    expect((await stranger.put('/v1/parts/ring-6', ring, { 'if-match': '"1-abc"' })).status).toBe(404);
    expect((await stranger.delete('/v1/parts/ring-6', { 'if-match': '"1-abc"' })).status).toBe(404);
    expect((await stranger.post('/v1/offers', redOffer)).status).toBe(422);
    expect((await stranger.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })).status).toBe(422);
    const { task } = (
      await (await ours.as('member')).post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })
    ).json<{ task: string }>();
    expect((await stranger.post(`${task}/cancel`, undefined)).status).toBe(404);
  });

  test('may use the same codes for things of its own', async () => {
    const editor = await theirs.as('editor');
    expect((await editor.post('/v1/parts', { ...ring, description: 'Their ring' })).status).toBe(201);
    expect((await (await ours.as('viewer')).get('/v1/parts/ring-6')).json()['description']).toBe(
      ring.description,
    );
  });
});

describe('a role', () => {
  const attempts: [string, (client: Client) => Promise<{ status: number }>][] = [
    ['read the catalogue', (client) => client.get('/v1/parts')],
    ['ask for a quote', (client) => client.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] })],
    [
      'add to the catalogue',
      (client) => client.post('/v1/suppliers', { ...shop, code: `s${Math.random().toString(36).slice(2)}` }),
    ],
    ['make keys', (client) => client.post('/v1/keys', { role: 'viewer', label: 'x' })],
  ];
  test.each([
    ['viewer', 1],
    ['member', 2],
    ['editor', 3],
    ['admin', 4],
  ] as const)('%s may do the first %i of: read, quote, edit, make keys', async (role, may) => {
    const client = await ours.as(role);
    for (const [index, [what, attempt]] of attempts.entries()) {
      const { status } = await attempt(client);
      expect([what, index < may ? status < 300 : status]).toEqual([what, index < may ? true : 403]);
    }
  });
});

describe('keys', () => {
  test('made by an admin open the club, and nothing once they are revoked', async () => {
    const admin = await ours.as('admin');
    const made = await admin.post('/v1/keys', { role: 'viewer', label: 'For the noticeboard' });
    const { id, secret } = made.json<{ id: string; secret: string }>();
    expect(made.headers.get('cache-control')).toBe('private, no-store');
    const holder = house.anonymous.with({ authorization: `Bearer ${secret}` });
    expect((await holder.get('/v1/parts')).status).toBe(200);
    expect((await admin.delete(`/v1/keys/${id}`)).status).toBe(204);
    expect((await holder.get('/v1/parts')).status).toBe(401);
    expect((await admin.delete(`/v1/keys/${id}`)).status).toBe(404);
  });

  test('are never shown again: no list and no replay holds a secret', async () => {
    const admin = await ours.as('admin');
    const { secret } = (await admin.post('/v1/keys', { role: 'viewer', label: 'secret once' })).json<{
      secret: string;
    }>();
    expect((await admin.get('/v1/keys?limit=500')).text).not.toContain(secret);
    expect(
      (await admin.post('/v1/keys', { role: 'viewer', label: 'x' }, { 'idempotency-key': 'k' })).status,
    ).toBe(400);
  });
});

const tagOfClub = async (admin: Client) => ({
  'if-match': (await admin.get('/v1/club')).headers.get('etag') ?? '',
});

describe('the club’s terms', () => {
  test('are set by an admin who has read them, and used by the next quote', async () => {
    const own = await house.club();
    const admin = await own.as('admin');
    const read = await admin.get('/v1/club');
    expect(read.json()).toEqual({ name: own.name, currency: 'GBP', settings: {} });
    const terms = { currency: 'EUR', country: 'IE', settings: { slackPercent: 5 } };
    const set = await admin.put('/v1/club', terms, { 'if-match': read.headers.get('etag') ?? '' });
    expect(set.json()).toEqual({ name: own.name, ...terms });
    expect((await admin.put('/v1/club', terms, { 'if-match': read.headers.get('etag') ?? '' })).status).toBe(
      412,
    );
    expect((await (await own.as('editor')).put('/v1/club', terms, { 'if-match': '"2"' })).status).toBe(403);
  });

  test('are set as a whole: a country that is left out is gone, and one that is none is refused', async () => {
    const own = await house.club();
    const admin = await own.as('admin');
    const set = async (country: object) =>
      admin.put('/v1/club', { currency: 'GBP', settings: {}, ...country }, await tagOfClub(admin));
    expect((await set({ country: 'GB' })).json()['country']).toBe('GB');
    expect((await set({ country: 'Britain' })).status).toBe(422);
    expect((await admin.get('/v1/club')).json()['country']).toBe('GB');
    expect((await set({})).json()).toEqual({ name: own.name, currency: 'GBP', settings: {} });
    expect((await admin.get('/v1/club')).json()).toEqual({ name: own.name, currency: 'GBP', settings: {} });
  });

  test('keep their currency while there are rates into it, though all else may change', async () => {
    const own = await house.club();
    const admin = await own.as('admin');
    const terms = { currency: 'GBP', country: 'GB', settings: { slackPercent: 4 } };
    for (const [code, currency] of [
      ['us', 'USD'],
      ['eu', 'EUR'],
    ])
      await admin.post('/v1/rates', { code, currency, on: '2026-11-02', rate: '0.8' });
    // EUR has a rate and CHF has none: in either, the rates that are there would be wrong.
    for (const currency of ['EUR', 'CHF']) {
      const refused = await admin.put('/v1/club', { ...terms, currency }, await tagOfClub(admin));
      expect([refused.status, refused.json()['detail']]).toEqual([
        409,
        expect.stringMatching(new RegExp(`rates.*${currency}.*Remove the rates`)),
      ]);
    }
    expect((await admin.get('/v1/club')).json()).toMatchObject({ currency: 'GBP', settings: {} });
    expect((await admin.put('/v1/club', terms, await tagOfClub(admin))).status).toBe(200);
    for (const code of ['us', 'eu']) {
      const tag = { 'if-match': (await admin.get(`/v1/rates/${code}`)).headers.get('etag') ?? '' };
      expect((await admin.delete(`/v1/rates/${code}`, tag)).status).toBe(204);
    }
    expect((await admin.put('/v1/club', { ...terms, currency: 'EUR' }, await tagOfClub(admin))).status).toBe(
      200,
    );
    const pounds = { code: 'uk', currency: 'GBP', on: '2026-11-02', rate: '1.15' };
    expect((await admin.post('/v1/rates', pounds)).status).toBe(201);
  });
});

test('looms with the same code in two clubs keep their own revisions', async () => {
  const editor = await theirs.as('editor');
  await editor.post('/v1/parts', { ...ring, code: 'other-ring' });
  const loom = oneWireLoom();
  const plain = {
    ...loom,
    wires: loom.wires.map((wire) => ({
      ...wire,
      from: { point: 'A', join: 'bare' },
      to: { point: 'B', join: 'bare' },
    })),
  };
  expect((await editor.post('/v1/looms', plain)).status).toBe(201);
  expect((await (await ours.as('viewer')).get('/v1/looms/loom')).text).toContain('ring-6');
});
