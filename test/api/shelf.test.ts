import { eq } from 'drizzle-orm';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { asClub } from '../../db/club.ts';
import { checkJob } from '../../db/checks.ts';
import { stock } from '../../db/schema/index.ts';
import type { StockItem } from '../../worker/engine/model/stock.ts';
import { loadJob } from '../../worker/tasks/load.ts';
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
});
afterAll(() => house.close());

async function opened(): Promise<void> {
  club = await house.club();
  editor = await club.as('editor');
  await loadSmall(editor);
  ada = await club.joined('member', 'Ada');
  ben = await club.joined('member', 'Ben');
}

const item = (code: string, more: object = {}) => ({
  form: 'pieces',
  code,
  part: 'ring-6',
  count: 3,
  ...more,
});
const tag = (got: Got) => ({ 'if-match': got.headers.get('etag') ?? '' });
const detail = (got: Got) => got.json<{ detail: string }>().detail;
const put = async (client: Client, body: { code: string }) =>
  client.put(`/v1/stock/${body.code}`, body, tag(await editor.get(`/v1/stock/${body.code}`)));
const todos = (got: Got) =>
  got.json<{ findings: { at: string; todo: string }[] }>().findings.map(({ at, todo }) => [at, todo]);

describe('a member', () => {
  beforeAll(opened);

  test('adds, changes and removes stock of their own, which is theirs where they name no owner', async () => {
    const added = await ada.client.post('/v1/stock', item('box-1', { place: 'shed' }));
    expect([added.status, added.json()]).toEqual([201, item('box-1', { place: 'shed', owner: 'Ada' })]);
    const changed = await put(ada.client, item('box-1', { owner: 'Ada', count: 2, clubMayUse: false }));
    expect([changed.status, changed.json()]).toEqual([
      200,
      item('box-1', { owner: 'Ada', count: 2, clubMayUse: false }),
    ]);
    expect((await ada.client.delete('/v1/stock/box-1', tag(changed))).status).toBe(204);
  });

  test('changes nothing of the club’s and of others, and gives nothing away', async () => {
    await editor.post('/v1/stock', item('of-club'));
    await editor.post('/v1/stock', item('of-ben', { owner: 'Ben' }));
    for (const code of ['of-club', 'of-ben']) {
      const refused = await put(ada.client, item(code));
      expect([refused.status, detail(refused)]).toEqual([
        403,
        `The stock item ${code} is not yours. With the role member you can change stock of your own only. Ask an editor of your club.`,
      ]);
      const kept = await ada.client.delete(`/v1/stock/${code}`, tag(await editor.get(`/v1/stock/${code}`)));
      expect(kept.status).toBe(403);
    }
    await ada.client.post('/v1/stock', item('of-ada'));
    for (const given of [
      await put(ada.client, item('of-ada', { owner: 'Ben' })),
      await ada.client.post('/v1/stock', item('for-ben', { owner: 'Ben' })),
    ])
      expect([given.status, detail(given)]).toEqual([
        403,
        expect.stringContaining('would be Ben. With the role member you can keep stock of your own only.'),
      ]);
    expect((await put(ben.client, item('of-ben', { count: 9 }))).status).toBe(200);
    expect((await put(editor, item('of-ada', { owner: 'Ada', count: 1 }))).status).toBe(200);
  });

  test('is needed for what a key with the role member adds', async () => {
    const refused = await (await club.as('member')).post('/v1/stock', item('of-nobody'));
    expect([refused.status, detail(refused)]).toEqual([
      403,
      'With the role member you can keep stock of your own, but your key belongs to no member. Use a key of your own, or a key with the role editor.',
    ]);
  });
});

describe('the owner of a stock item', () => {
  beforeAll(opened);

  test('is a member who has not left; names that are near are told', async () => {
    const gone = await club.joined('member', 'Cyril');
    await gone.client.post('/v1/stock', item('of-cyril'));
    await gone.client.post(`/v1/members/${gone.id}/leave`, undefined);
    const unknown = await editor.post('/v1/stock', item('new', { owner: 'Adda' }));
    expect([unknown.status, todos(unknown)]).toEqual([
      422,
      [['/owner', expect.stringMatching(/^No member is called Adda\. .* Did you mean Ada\?$/)]],
    ]);
    expect((await editor.post('/v1/stock', item('new', { owner: 'Cyril' }))).status).toBe(422);
    // What was theirs stays theirs.
    expect((await put(editor, item('of-cyril', { owner: 'Cyril', count: 1 }))).status).toBe(200);
  });

  test('must be stated where something is kept from the club', async () => {
    const refused = await editor.post('/v1/stock', item('new', { clubMayUse: false }));
    expect(refused.status).toBe(422);
    expect(refused.json<{ findings: { at: string }[] }>().findings[0]?.at).toBe('/clubMayUse');
  });

  test('is not guessed among several of one name, of whom each enters their own', async () => {
    await club.joined('member', 'Dora');
    const second = await club.joined('member', 'Dora');
    const refused = await editor.post('/v1/stock', item('of-dora', { owner: 'Dora' }));
    expect([refused.status, todos(refused)]).toEqual([
      422,
      [['/owner', expect.stringMatching(/^Several members are called Dora\./)]],
    ]);
    expect((await second.client.post('/v1/stock', item('of-dora'))).status).toBe(201);
    // An editor who leaves the owner as it is means the same one.
    expect((await put(editor, item('of-dora', { owner: 'Dora', count: 1 }))).status).toBe(200);
    expect((await put(second.client, item('of-dora', { count: 2 }))).status).toBe(200);
  });

  test('is shown by the name that they have now, in a new version and in the record', async () => {
    const before = await ada.client.post('/v1/stock', item('of-ada'));
    const me = await ada.client.get(`/v1/members/${ada.id}`);
    const renamed = await ada.client.put(
      `/v1/members/${ada.id}`,
      { name: 'Ada Marsh', role: 'member' },
      tag(me),
    );
    expect(renamed.status).toBe(200);
    const after = await editor.get('/v1/stock/of-ada');
    expect([after.json(), tag(after)]).toEqual([
      item('of-ada', { owner: 'Ada Marsh' }),
      expect.not.objectContaining(tag(before)),
    ]);
    const { items } = (await editor.get('/v1/record?thing=stock-item:of-ada')).json<{
      items: { action: string; after: unknown }[];
    }>();
    expect(items[0]).toMatchObject({ action: 'stock-item.replace', after: { owner: 'Ada Marsh' } });
    expect((await put(ada.client, item('of-ada', { count: 1 }))).status).toBe(200);
  });

  test('stays when the part is merged into another one, also after they left', async () => {
    await editor.post('/v1/parts', { ...ring, code: 'ring-m6' });
    await ben.client.post('/v1/stock', item('of-ben', { part: 'ring-m6', place: 'attic' }));
    await editor.post('/v1/stock', item('rest', { part: 'ring-m6' }));
    await ben.client.post(`/v1/members/${ben.id}/leave`, undefined);
    const part = await editor.get('/v1/parts/ring-m6');
    expect((await editor.post('/v1/parts/ring-m6/merge', { into: 'ring-6' }, tag(part))).status).toBe(200);
    expect((await editor.get('/v1/stock/of-ben')).json()).toEqual(
      item('of-ben', { owner: 'Ben', place: 'attic' }),
    );
    const kept = await club.run(({ tx, club: id }) =>
      tx.select({ code: stock.code, ownerId: stock.ownerId }).from(stock).where(eq(stock.clubId, id)),
    );
    expect(kept.map(({ code, ownerId }) => [code, ownerId])).toEqual(
      expect.arrayContaining([
        ['of-ben', ben.id],
        ['rest', null],
      ]),
    );
  });
});

describe('a quote', () => {
  beforeAll(async () => {
    await opened();
    await editor.post('/v1/stock', item('club'));
    for (const [who, name] of [
      [ada, 'ada'],
      [ben, 'ben'],
    ] as const) {
      await who.client.post('/v1/stock', item(`${name}-shared`));
      const own = { owner: name === 'ada' ? 'Ada' : 'Ben', clubMayUse: false, place: 'attic' };
      expect((await who.client.post('/v1/stock', item(`${name}-kept`, own))).status).toBe(201);
    }
  });

  const codes = (job: unknown) => (job as { stock: StockItem[] }).stock.map(({ code }) => code);
  const usedBy = async (client: Client) => {
    const asked = await client.post('/v1/quotes', { looms: [{ loom: 'loom', quantity: 1 }] });
    // As the worker does, which sees all of the club.
    return codes(await loadJob(house.database, club.ctx, asked.json<{ id: string }>().id));
  };

  test('uses the club’s stock, the owner’s, and what others let the club use', async () => {
    expect(await usedBy(ada.client)).toEqual(['ada-kept', 'ada-shared', 'ben-shared', 'club']);
    expect(await usedBy(ben.client)).toEqual(['ada-shared', 'ben-kept', 'ben-shared', 'club']);
  });

  test('of nobody uses what the club may use', async () => {
    expect(await usedBy(editor)).toEqual(['ada-shared', 'ben-shared', 'club']);
  });

  test('uses what the checks of a loom use for whoever asks', async () => {
    const job = await asClub(house.database, ada.ctx, (ctx) =>
      checkJob({ ctx, input: { code: 'loom', revision: 1, options: [] } }),
    );
    expect(codes(job)).toEqual(['ada-kept', 'ada-shared', 'ben-shared', 'club']);
  });

  test('is made of a table of stock as of single items', async () => {
    const csv = (text: string) =>
      editor.send('POST', '/v1/stock/table', { headers: { 'content-type': 'text/csv' }, body: text });
    const head = 'code,kind,part,count,owner,place,club may use\n';
    const got = await csv(
      `${head}ada-table,pieces,ring-6,2,Ada,shed,no\nno-such,pieces,ring-6,2,Bem,,\nclub-table,pieces,ring-6,2,,loft,\n`,
    );
    expect(got.json()).toMatchObject({ new: 2, faults: 1 });
    expect(await usedBy(ada.client)).toContain('ada-table');
    expect(await usedBy(ben.client)).not.toContain('ada-table');
    expect(await usedBy(ben.client)).toContain('club-table');
    const again = await csv(`${head}ada-table,pieces,ring-6,5,Ada,shed,no\n`);
    expect(again.json()).toMatchObject({ changed: 1 });
    expect((await put(ada.client, item('ada-table'))).status).toBe(200);
  });
});
