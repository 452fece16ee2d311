import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { exported, asMember, contentOf, linesOf, restoredIn, sent } from '../support/archives.ts';
import type { Client } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';
import { liveIn } from '../support/livedIn.ts';

let house: TestHouse;
/** A club that was lived in, and one that its archive was read into. */
let before: TestClub;
let after: TestClub;
let archive: Uint8Array;
/** Who asks both, as themselves: Ada, an admin, and Dot, an editor. */
let asked: Record<'Ada' | 'Dot', { there: Client; here: Client }>;
beforeAll(async () => {
  house = await openHouse();
  before = await house.club();
  const ada = await before.joined('admin', 'Ada');
  await loadSmall(ada.client);
  const { dot } = await liveIn(before, ada);
  archive = await exported(ada.client);
  const restored = await restoredIn(house, archive);
  expect([restored.got.status, restored.got.text]).toEqual([200, expect.stringContaining('"written":true')]);
  after = restored.club;
  const here = async (name: string) => asMember(house, after.name, name);
  asked = {
    Ada: { there: ada.client, here: await here('Ada') },
    Dot: { there: dot.client, here: await here('Dot') },
  };
});
afterAll(() => house.close());

/** Tasks get new ids, and e-mails stay behind. */
const kept = (text: string) =>
  text.replaceAll(/"\/v1\/tasks\/[^"]*"/g, '"task"').replaceAll(/"email":"[^"]*",?/g, '');

/** What a member is answered in the club that was restored, once it is seen to be what the other club answers. */
async function same(name: keyof typeof asked, path: string): Promise<{ status: number; text: string }> {
  const { there, here } = asked[name];
  const [was, is] = [await there.get(path), await here.get(path)];
  expect([path, is.status, kept(is.text)]).toEqual([path, was.status, kept(was.text)]);
  // That of a list is of its bytes, new ids of tasks and all.
  if (kept(was.text) === was.text)
    expect([path, is.headers.get('etag')]).toEqual([path, was.headers.get('etag')]);
  return { status: is.status, text: is.text };
}

describe('a club that was restored', () => {
  test('has its members with their roles, and those who have left', async () => {
    const { text } = await same('Dot', '/v1/members');
    const { items } = JSON.parse(text) as { items: { name: string; role: string; leftAt?: string }[] };
    expect(items.map(({ name, role, leftAt }) => [name, role, leftAt !== undefined])).toEqual([
      ['Ada', 'admin', false],
      ['Bo', 'member', true],
      ['Dot', 'editor', false],
    ]);
    expect(JSON.stringify(items)).not.toContain('email');
  });

  test('has looms and quotes of their owners, each seen by whoever saw it before', async () => {
    for (const name of ['Ada', 'Dot'] as const) {
      const [own, other] = name === 'Ada' ? ['ada', 'dot'] : ['dot', 'ada'];
      expect((await same(name, '/v1/looms')).text).toContain(`"owner":"${name}"`);
      expect((await same(name, '/v1/quotes')).text).toContain(`lead-of-${own}`);
      for (const rest of ['', '/about', '/revisions', '/revisions/1'])
        expect((await same(name, `/v1/looms/lead-of-${own}${rest}`)).status).toBe(200);
      for (const hidden of [other, 'bo'])
        expect((await asked[name].here.get(`/v1/looms/lead-of-${hidden}`)).status).toBe(404);
    }
    const nobody = await after.as('admin');
    expect((await nobody.get('/v1/looms')).text).not.toContain('lead-of-');
    expect((await nobody.get('/v1/quotes')).text).not.toContain('lead-of-');
  });

  test('has the prices that offers had, also of one that is gone', async () => {
    const { text } = await same('Dot', '/v1/parts/lived-ring/prices');
    // 2.50 for ten.
    for (const figure of ['0.25', 'lived-pack', 'lived-gone', '2026-05-01', '2026-06-01'])
      expect(text).toContain(figure);
  });

  test('has the record, with who did what, and shows each the rows that they saw before', async () => {
    for (const thing of ['offer:lived-pack', 'part:lived-ring-again', 'part:lived-proposal'])
      expect((await same('Dot', `/v1/record?thing=${thing}`)).text).toContain('"action"');
    expect((await same('Dot', '/v1/record?thing=loom:lead-of-dot')).text).toContain('loom.create');
    expect((await same('Ada', '/v1/record?thing=loom:lead-of-dot')).text).not.toContain('loom.create');
  });

  test('has what is proposed, and what was said of fits by whom', async () => {
    expect((await same('Dot', '/v1/proposals?kind=part')).text).toContain('lived-proposal');
    expect((await same('Dot', '/v1/parts/lived-proposal/about')).text).toContain('Bo');
    expect((await same('Dot', '/v1/parts/lived-proposal/standing')).text).toContain('"proposed"');
    const { text } = await same('Dot', '/v1/fits/lived-ring/takes/lived-wire-red/reports');
    for (const said of ['"fits":1,"doesNotFit":1', 'member:', 'Snug.', 'Marram Ostler 1960'])
      expect(text).toContain(said);
  });

  test('leads from the code of a merged part to what it became, and finds it under that one alone', async () => {
    const { here } = asked.Dot;
    const moved = await here.get('/v1/parts/lived-ring-again');
    expect([moved.status, moved.headers.get('location')]).toEqual([308, '/v1/parts/lived-ring']);
    const found = await same('Dot', '/v1/parts?q=lived%20ring');
    const { items } = JSON.parse(found.text) as { items: { item: { code: string } }[] };
    const codes = items.map(({ item }) => item?.code);
    expect(codes).toContain('lived-ring');
    expect(codes).not.toContain('lived-ring-again');
    expect(codes).not.toContain(undefined);
    expect((await here.post('/v1/parts', { ...ring, code: 'lived-ring-again' })).status).toBe(422);
  });

  test('has its synonyms, and searches with them', async () => {
    expect((await same('Dot', '/v1/synonyms')).text).toContain('["lug","ring"]');
    expect((await same('Dot', '/v1/parts?q=lug')).text).toContain('"synonym"');
  });
});

test('an archive is the whole club: what members alone see is in that of every admin, with who sees it', async () => {
  const nobody = await before.as('admin');
  expect((await nobody.get('/v1/looms/lead-of-dot')).status).toBe(404);
  const lines = linesOf(await exported(nobody)).map((line) => JSON.parse(line) as Record<string, unknown>);
  for (const code of ['lead-of-ada', 'lead-of-bo', 'lead-of-dot'])
    expect(lines).toContainEqual(
      expect.objectContaining({ type: 'loom', code, private: true, owner: expect.any(String) as string }),
    );
});

test('synonyms that are others than in the archive differ, and stay', async () => {
  const club = await house.club();
  const admin = await club.as('admin');
  const groups = [['boot', 'trunk']];
  expect((await admin.put('/v1/synonyms', { groups }, { 'if-match': '*' })).status).toBe(200);
  const got = await sent(admin, archive);
  expect([got.status, got.text]).toEqual([409, expect.stringContaining('the club’s synonyms')]);
  expect((await admin.get('/v1/synonyms')).json()).toEqual({ groups });
  expect(contentOf(await exported(admin)).filter((line) => line.includes('"type":"part"'))).toEqual([]);
});

test('stock comes back with whose it is and where it lies, and its movements go on from those that it had', async () => {
  const { there, here } = asked.Dot;
  const path = '/v1/stock/lived-drawer';
  const item = (await there.get(path)).json();
  expect(item).toMatchObject({ count: 7, owner: 'Bo', place: 'shed' });
  expect((await here.get(path)).json()).toEqual(item);
  const before = (await there.get(`${path}/movements`)).json<{ items: object[] }>().items;
  expect((await here.post(`${path}/movements`, { kind: 'found' })).status).toBe(201);
  expect((await here.get(`${path}/movements`)).json()).toMatchObject({
    items: [{ kind: 'found', change: 1, balance: 8 }, ...before],
  });
});
