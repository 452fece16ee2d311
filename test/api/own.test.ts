import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client, Got } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse, type TestMember } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let ada: TestMember;
let ben: TestMember;
let editor: Client;
beforeAll(async () => {
  house = await openHouse();
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  ada = await club.joined('member', 'Ada');
  ben = await club.joined('member', 'Ben');
});
afterAll(() => house.close());

const tag = (got: Got) => ({ 'if-match': got.headers.get('etag') ?? '' });
const detail = (got: Got) => got.json<{ detail: string }>().detail;
let count = 0;
const body = () => ({ code: `own-${++count}`, name: 'Own', parts: [{ part: 'ring-6', quantity: 1 }] });
/** A loom of Ada’s: its path. */
async function loomOf(who: TestMember, query = '') {
  const loom = body();
  expect((await who.client.post(`/v1/looms${query}`, loom)).status).toBe(201);
  return { loom, code: loom.code, path: `/v1/looms/${loom.code}` };
}
const quoteOf = (client: Client, code: string, query = '') =>
  client.post(`/v1/quotes${query}`, { looms: [{ loom: code, quantity: 1 }] });
const heads = async (client: Client) =>
  (await client.get('/v1/looms?limit=500')).json<{ items: { code: string }[] }>().items;

describe('a member', () => {
  test('adds, revises and removes looms of their own, which the list tells', async () => {
    const { code, path, loom } = await loomOf(ada);
    expect(await heads(ben.client)).toContainEqual(
      expect.objectContaining({ code, owner: 'Ada', seenBy: 'club' }),
    );
    const next = await ada.client.post(`${path}/revisions`, loom, tag(await ada.client.get(path)));
    expect(next.status).toBe(201);
    const refused = await ben.client.post(`${path}/revisions`, loom, tag(next));
    expect([refused.status, detail(refused)]).toEqual([
      403,
      `The loom ${code} is not yours. With the role member you can change looms of your own only. Ask an editor of your club.`,
    ]);
    expect((await ben.client.delete(path, tag(next))).status).toBe(403);
    const edited = await editor.post(`${path}/revisions`, loom, tag(next));
    expect(edited.status).toBe(201);
    expect((await ada.client.delete(path, tag(edited))).status).toBe(204);
  });

  test('is needed for a loom that a key with the role member adds, and for one seen by its owner', async () => {
    const nobody = await club.as('member');
    const refused = await nobody.post('/v1/looms', body());
    expect([refused.status, detail(refused)]).toEqual([
      403,
      'With the role member you can keep looms of your own, but your key belongs to no member. Use a key of your own, or a key with the role editor.',
    ]);
    expect((await editor.post('/v1/looms?seenBy=owner', body())).status).toBe(403);
  });
});

describe('a loom that its owner alone sees', () => {
  test('is nowhere for the others, admins included, and whole for its owner', async () => {
    const { code, path } = await loomOf(ada, '?seenBy=owner');
    for (const client of [ben.client, editor, await club.as('admin')]) {
      const got = await client.get(path);
      expect([got.status, detail(got)]).toEqual([404, `There is no loom ${code}.`]);
      expect((await client.get(`${path}/revisions/1`)).status).toBe(404);
      expect(await heads(client)).not.toContainEqual(expect.objectContaining({ code }));
      expect((await quoteOf(client, code)).status).toBe(422);
      const change = await client.put(`${path}/seen-by`, { seenBy: 'club' });
      expect(change.status).toBe(404);
    }
    expect((await ada.client.get(path)).status).toBe(200);
    expect(await heads(ada.client)).toContainEqual(expect.objectContaining({ code, seenBy: 'owner' }));
  });

  test('keeps its code and its parts, and nobody is told whose they are', async () => {
    await editor.post('/v1/parts', { ...ring, code: 'ring-own' });
    const loom = { ...body(), parts: [{ part: 'ring-own', quantity: 1 }] };
    await ada.client.post('/v1/looms?seenBy=owner', loom);
    const taken = await ben.client.post('/v1/looms', { ...loom, parts: [{ part: 'ring-6', quantity: 1 }] });
    expect([taken.status, detail(taken)]).toEqual([
      409,
      `The loom ${loom.code} already exists. Use another code, or add a revision to the existing loom.`,
    ]);
    const removed = await editor.delete('/v1/parts/ring-own', tag(await editor.get('/v1/parts/ring-own')));
    expect([removed.status, detail(removed)]).toEqual([
      409,
      'A loom names this part. Revisions of a loom never change, so the part cannot be removed.',
    ]);
  });

  test('makes each quote of it one that its owner alone sees, with its task and events', async () => {
    const { code, path } = await loomOf(ada, '?seenBy=owner');
    const got = await quoteOf(ada.client, code);
    expect(got.json()).toMatchObject({ owner: 'Ada', seenBy: 'owner' });
    const { id, task } = got.json<{ id: string; task: string }>();
    expect((await quoteOf(ada.client, code, '?seenBy=club')).status).toBe(409);
    for (const there of [`/v1/quotes/${id}`, `/v1/quotes/${id}/result`, task, `${task}/events`])
      expect([there, (await ben.client.get(there)).status]).toEqual([there, 404]);
    expect((await ben.client.post(`${task}/cancel`, undefined)).status).toBe(404);
    expect((await ben.client.get('/v1/quotes')).text).not.toContain(id);
    const shown = await ada.client.put(`/v1/quotes/${id}/seen-by`, { seenBy: 'club' });
    expect([shown.status, detail(shown)]).toEqual([
      409,
      'A loom of this quote is seen by you alone, and the quote would show it. Show the loom to the club first: PUT /v1/looms/{code}/seen-by.',
    ]);
    expect((await ada.client.put(`${path}/seen-by`, { seenBy: 'club' })).status).toBe(200);
    expect((await ada.client.put(`/v1/quotes/${id}/seen-by`, { seenBy: 'club' })).status).toBe(200);
    expect((await ben.client.get(task)).status).toBe(200);
    expect((await ben.client.get(path)).status).toBe(200);
  });

  test('cannot be hidden again while others see a quote of it, and only its owner can hide it', async () => {
    const { code, path } = await loomOf(ada);
    for (const client of [ben.client, editor])
      expect((await client.put(`${path}/seen-by`, { seenBy: 'owner' })).status).toBe(403);
    await quoteOf(ben.client, code, '?seenBy=owner');
    const hidden = await ada.client.put(`${path}/seen-by`, { seenBy: 'owner' });
    expect(hidden.status).toBe(409);
    expect(detail(hidden)).not.toContain('Ben');
    expect((await editor.put('/v1/looms/loom/seen-by', { seenBy: 'owner' })).status).toBe(403);
  });

  test('keeps the ETag of its revision when it is shown or hidden', async () => {
    const { path } = await loomOf(ada);
    const before = await ada.client.get(path);
    await ada.client.put(`${path}/seen-by`, { seenBy: 'owner' });
    expect(tag(await ada.client.get(path))).toEqual(tag(before));
  });
});
