import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let editor: Client;
let ann: Client;
let bob: Client;

const part = (code: string, description = `Part ${code}`) => ({ kind: 'boot', code, description });
const offer = (code: string, price: string) => ({
  form: 'pack',
  code,
  supplier: 'wrenfield',
  part: 'cap',
  packCount: 10,
  packPrice: { amount: price, currency: 'GBP' },
});

beforeAll(async () => {
  house = await openHouse();
  const club = await house.club();
  editor = await club.as('editor');
  ann = await club.as('member');
  bob = await club.as('member');
  await editor.post('/v1/parts', part('cap'));
  await editor.post('/v1/parts', part('plug'));
  await editor.post('/v1/suppliers', {
    code: 'wrenfield',
    name: 'Wrenfield',
    currency: 'GBP',
    country: 'GB',
  });
});
afterAll(() => house.close());

const tagOf = async (path: string) => ({ 'if-match': (await editor.get(path)).headers.get('etag') ?? '' });

describe('what a member puts in', () => {
  test('is proposed, is changed by them alone, and is theirs no longer once an editor has confirmed it', async () => {
    expect((await ann.post('/v1/parts', part('hood'))).status).toBe(201);
    const path = '/v1/parts/hood';
    expect((await bob.put(path, part('hood', 'Other'), await tagOf(path))).status).toBe(403);
    expect((await ann.put(path, part('hood', 'Better'), await tagOf(path))).status).toBe(200);
    expect((await ann.get(`${path}/standing`)).json()).toMatchObject({ standing: 'proposed' });
    expect((await ann.post(`${path}/confirm`, undefined)).status).toBe(403);
    expect((await editor.post(`${path}/confirm`, undefined)).json()).toMatchObject({ standing: 'confirmed' });
    const refused = await ann.put(path, part('hood', 'Late'), await tagOf(path));
    expect([refused.status, refused.json()['detail']]).toEqual([
      403,
      'The part hood is confirmed. A member changes only their own proposals, and only until an editor confirms them. Ask an editor of your club.',
    ]);
    expect((await ann.delete(path, await tagOf(path))).status).toBe(403);
  });

  test('never is a change of what an editor put in', async () => {
    expect((await ann.put('/v1/parts/cap', part('cap', 'Mine'), await tagOf('/v1/parts/cap'))).status).toBe(
      403,
    );
    expect((await ann.post('/v1/suppliers', { code: 'x', name: 'X', currency: 'GBP' })).status).toBe(403);
  });

  test('is withdrawn by them, and rejected by an editor, who removes it', async () => {
    await ann.post('/v1/offers', offer('cheap', '2.00'));
    expect((await bob.delete('/v1/offers/cheap', await tagOf('/v1/offers/cheap'))).status).toBe(403);
    expect((await ann.delete('/v1/offers/cheap', await tagOf('/v1/offers/cheap'))).status).toBe(204);
    await bob.post('/v1/offers', offer('cheap', '3.00'));
    expect((await editor.delete('/v1/offers/cheap', await tagOf('/v1/offers/cheap'))).status).toBe(204);
  });

  test('is a fit as proposed and as nothing else', async () => {
    const fit = { from: 'plug', relation: 'takes', to: 'cap' };
    expect((await ann.post('/v1/fits', { ...fit, status: 'confirmed' })).status).toBe(403);
    expect((await ann.post('/v1/fits', fit)).status).toBe(201);
    const path = '/v1/fits/plug/takes/cap';
    expect((await bob.put(path, { ...fit, note: 'x' }, await tagOf(path))).status).toBe(403);
    expect((await ann.put(path, { ...fit, status: 'refuted' }, await tagOf(path))).status).toBe(403);
    expect((await editor.put(path, { ...fit, status: 'refuted' }, await tagOf(path))).status).toBe(200);
    expect((await ann.put(path, fit, await tagOf(path))).status).toBe(403);
    expect((await editor.delete(path, await tagOf(path))).status).toBe(409);
  });
});

test('proposals are listed by page, by kind and by who proposed them', async () => {
  await ann.post('/v1/parts', part('boot-1'));
  await ann.post('/v1/offers', offer('dear', '9.00'));
  await ann.post('/v1/fits', { from: 'plug', relation: 'covers', to: 'cap' });
  const named = (got: { json: () => Record<string, unknown> }) =>
    (got.json()['items'] as { kind: string; name: string }[]).map(({ kind, name }) => `${kind} ${name}`);
  const all = ['fit plug/covers/cap', 'offer dear', 'part boot-1'];
  expect(named(await editor.get('/v1/proposals'))).toEqual(all);
  expect(named(await editor.get('/v1/proposals?kind=offer'))).toEqual(['offer dear']);
  const [first] = (await editor.get('/v1/proposals')).json<{ items: { by: string }[] }>().items;
  expect(named(await editor.get(`/v1/proposals?by=${first?.by}`))).toEqual(all);
  expect(named(await editor.get('/v1/proposals?by=key:nobody'))).toEqual([]);
  const page = await editor.get('/v1/proposals?limit=2');
  const { next } = page.json<{ next: string }>();
  expect([...named(page), ...named(await editor.get(`/v1/proposals?limit=2&cursor=${next}`))]).toEqual(all);
});
