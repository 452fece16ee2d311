import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Client } from '../support/client.ts';
import { jobWith } from '../../db/jobs.ts';
import { getRevision } from '../../db/looms.ts';
import { loadSmall, oneWireLoom, ring, ringOffer } from '../support/fixtures.ts';
import { openHouse, type TestClub, type TestHouse } from '../support/house.ts';

let house: TestHouse;
let club: TestClub;
let editor: Client;
let member: Client;

beforeAll(async () => {
  house = await openHouse();
});
afterAll(() => house.close());

async function opened(): Promise<void> {
  club = await house.club();
  editor = await club.as('editor');
  member = await club.as('member');
  await loadSmall(editor);
  await editor.post('/v1/parts', { ...ring, code: 'ring-m6' });
}

const tagOf = async (path: string) => ({ 'if-match': (await editor.get(path)).headers.get('etag') ?? '' });
const merge = async (part: string, into: string) =>
  editor.post(`/v1/parts/${part}/merge`, { into }, await tagOf(`/v1/parts/${part}`));
/** What the first revision of the loom is priced from. */
const job = () =>
  club.run(async (ctx) => {
    const { code, revision, body } = await getRevision({ ctx, input: { code: 'loom' } });
    const request = { looms: [{ loom: code, quantity: 1, options: [] }] };
    return jobWith({
      ctx,
      input: { asOf: '2026-11-02', looms: [{ code, revision, body }], request, owner: null },
    });
  });

describe('merging a part into another one', () => {
  beforeAll(opened);

  test('is shown before it is done: what names which, and nothing is changed', async () => {
    await editor.post('/v1/fits', { from: 'ring-6', relation: 'takes', to: 'wire-red', status: 'confirmed' });
    await editor.post('/v1/fits', { from: 'ring-m6', relation: 'takes', to: 'wire-red' });
    await editor.post('/v1/fits', { from: 'ring-m6', relation: 'standsInFor', to: 'ring-6' });
    await editor.post('/v1/stock', { code: 'shelf', form: 'pieces', part: 'ring-6', count: 4 });
    const seen = await member.get('/v1/parts/ring-6/merge?into=ring-m6');
    expect(seen.json()).toEqual({
      part: 'ring-6',
      into: 'ring-m6',
      offers: ['ring-pack'],
      kits: [],
      fits: [
        { from: 'ring-6', relation: 'takes', to: 'wire-red' },
        { from: 'ring-m6', relation: 'standsInFor', to: 'ring-6' },
      ],
      stock: ['shelf'],
      standIns: [],
      looms: [{ loom: 'loom', revisions: [1], latest: true }],
      privateLooms: 0,
      quotes: 0,
      clashes: [
        'The fits ring-6/takes/wire-red and ring-m6/takes/wire-red become one: refuted outweighs confirmed, and that proposed.',
        'The fit ring-m6/standsInFor/ring-6 is of the two parts that become one, so it is removed.',
      ],
    });
    expect((await editor.get('/v1/parts/ring-6')).status).toBe(200);
  });

  test('is refused to members, without a version, with itself, and with a part of another kind', async () => {
    const tag = await tagOf('/v1/parts/ring-6');
    const asked = (client: Client, into: string, headers = tag) =>
      client.post('/v1/parts/ring-6/merge', { into }, headers);
    expect((await asked(member, 'ring-m6')).status).toBe(403);
    expect((await editor.post('/v1/parts/ring-6/merge', { into: 'ring-m6' })).status).toBe(428);
    expect((await asked(editor, 'ring-6')).status).toBe(409);
    expect((await asked(editor, 'wire-red')).json()['detail']).toBe(
      'ring-6 is a terminal and wire-red is a wire. Only parts of one kind are merged.',
    );
    expect((await asked(editor, 'ghost')).status).toBe(404);
  });

  test('renames the part wherever it is named, and its old code leads to the new one', async () => {
    expect((await merge('ring-6', 'ring-m6')).status).toBe(200);
    const old = await member.get('/v1/parts/ring-6');
    expect([old.status, old.headers.get('location'), old.json()]).toEqual([
      308,
      '/v1/parts/ring-m6',
      { code: 'ring-6', mergedInto: 'ring-m6' },
    ]);
    expect((await editor.get('/v1/offers/ring-pack')).json()['part']).toBe('ring-m6');
    expect((await editor.get('/v1/stock/shelf')).json()['part']).toBe('ring-m6');
    expect((await editor.get('/v1/fits')).json()['items']).toEqual([
      { from: 'ring-m6', relation: 'takes', to: 'wire-red', status: 'confirmed' },
    ]);
    // The revision stays; what it is priced from names the part that is left.
    expect(JSON.stringify((await editor.get('/v1/looms/loom')).json())).toContain('"ring-6"');
    const after = JSON.stringify(await job());
    // It is kept as a number by which the part that is left is found.
    expect(after).toContain('{"whose":"Former code","number":"ring-6"}');
    expect(after.replace('"number":"ring-6"', '')).not.toContain('"ring-6"');
    const found = await editor.get('/v1/parts?q=ring-6');
    expect(found.json<{ items: { item: { code: string } }[] }>().items.map(({ item }) => item.code)).toEqual([
      'ring-m6',
    ]);
    expect((await editor.get('/v1/parts/ring-m6/uses')).json()['looms']).toEqual([
      { loom: 'loom', revisions: [1], latest: true },
    ]);
  });

  test('has the old code understood in what is put in later', async () => {
    const offer = { ...ringOffer, code: 'later' };
    expect((await editor.post('/v1/offers', offer)).json()['part']).toBe('ring-m6');
    expect((await editor.post('/v1/looms', oneWireLoom('later'))).status).toBe(201);
    expect(JSON.stringify((await editor.get('/v1/looms/later')).json())).not.toContain('"ring-6"');
    const again = await editor.post('/v1/parts', ring);
    expect([again.status, again.json<{ findings: { todo: string }[] }>().findings[0]?.todo]).toEqual([
      422,
      'The part ring-6 was merged into ring-m6. Change ring-m6, or use another code for a new part.',
    ]);
  });

  test('makes no new revision of a loom whose list is sent as it was, with the old code or the new one', async () => {
    const path = '/v1/looms/loom/tables/wires';
    const { text } = await editor.get(path);
    for (const body of [text.replaceAll('ring-m6', 'ring-6'), text.replaceAll('ring-6', 'ring-m6')]) {
      const got = await editor.send('POST', path, { headers: { 'content-type': 'text/csv' }, body });
      expect(got.json()).toMatchObject({ unchanged: 1, changed: 0, faults: 0, revision: 1 });
    }
  });

  test('goes in no circle, and a chain leads to its end', async () => {
    const tag = await tagOf('/v1/parts/ring-m6');
    expect((await editor.post('/v1/parts/ring-m6/merge', { into: 'ring-6' }, tag)).json()['detail']).toBe(
      'ring-6 was merged into ring-m6 already, so ring-m6 cannot go back into it.',
    );
    await editor.post('/v1/parts', { ...ring, code: 'ring-last' });
    expect((await merge('ring-m6', 'ring-last')).status).toBe(200);
    expect((await editor.get('/v1/parts/ring-6')).headers.get('location')).toBe('/v1/parts/ring-last');
    expect(
      (await editor.get('/v1/parts')).json<{ items: { code: string }[] }>().items.map(({ code }) => code),
    ).toEqual(['ring-last', 'wire-red']);
    expect(JSON.stringify(await job())).toContain('"ring-last"');
  });
});

test('whatever is merged, nothing names a merged part afterwards but revisions', async () => {
  const codes = ['a', 'b', 'c', 'd', 'e'];
  const one = fc.constantFrom(...codes);
  const pair = fc.tuple(one, one).filter(([x, y]) => x !== y);
  const relation = fc.constantFrom('mates', 'standsInFor', 'covers');
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.tuple(pair, relation), { maxLength: 6 }),
      fc.array(fc.uniqueArray(one, { minLength: 1, maxLength: 3 }), { maxLength: 4 }),
      fc.array(pair, { minLength: 1, maxLength: 4 }),
      async (fits, kits, merges) => {
        club = await house.club();
        editor = await club.as('editor');
        await editor.post('/v1/suppliers', { code: 'shop', name: 'Corner Electrics', currency: 'GBP' });
        for (const code of codes) await editor.post('/v1/parts', { kind: 'boot', code, description: code });
        for (const [[from, to], relation] of fits) await editor.post('/v1/fits', { from, relation, to });
        for (const [index, parts] of kits.entries())
          await editor.post('/v1/offers', {
            form: 'kit',
            code: `kit-${index}`,
            supplier: 'shop',
            contents: parts.map((part) => ({ part, quantity: 2 })),
            packPrice: { amount: '1.00', currency: 'GBP' },
          });
        const gone = new Set<string>();
        for (const [part, into] of merges) {
          const got = await merge(part, into);
          // What is gone has no ETag any more, so that nobody can state its version.
          expect(got.status).toBe(gone.has(part) ? 412 : gone.has(into) ? 409 : 200);
          if (got.status === 200) gone.add(part);
        }
        const offers = (await editor.get('/v1/offers')).json<{
          items: { contents: { part: string; quantity: number }[] }[];
        }>();
        const left = (await editor.get('/v1/fits')).json<{ items: { from: string; to: string }[] }>();
        const named = [
          ...offers.items.flatMap(({ contents }) => contents.map(({ part }) => part)),
          ...left.items.flatMap(({ from, to }) => [from, to]),
        ];
        expect(named.filter((code) => gone.has(code))).toEqual([]);
        // A kit still holds as many pieces as before.
        expect(
          offers.items.map(({ contents }) => contents.reduce((sum, { quantity }) => sum + quantity, 0)),
        ).toEqual(kits.map((parts) => 2 * parts.length));
      },
    ),
    { numRuns: 4 },
  );
});
