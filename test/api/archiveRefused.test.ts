import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { ArchiveImport } from '../../api/routes/archive.ts';
import {
  archiveOf,
  contentOf,
  exported,
  packed,
  restoredIn,
  revise,
  sent,
  smallEntries,
  totals,
} from '../support/archives.ts';
import type { Got } from '../support/client.ts';
import { loadSmall, ring } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';

const MIB = 1024 ** 2;
/** Nobody has this id. */
const SOMEBODY = '01890000-0000-7000-8000-00000000000a';

let house: TestHouse;
beforeAll(async () => {
  house = await openHouse({ archiveBytes: 4 * MIB });
});
afterAll(() => house.close());

const said = (got: Got) => got.json<ArchiveImport>();
const problem = (got: Got) =>
  got.json<{ detail: string; findings?: { where: string; found: string; todo: string }[] }>();

describe('an import into a club that has something', () => {
  const small = () => packed(archiveOf(smallEntries()));

  test('brings what is new where all else is the same', async () => {
    const other = await restoredIn(house, small());
    expect(said(other.got).written).toBe(true);
    const entries = smallEntries();
    const more = entries.toSpliced(2, 0, {
      ...entries[1],
      body: { ...ring, code: 'ring-8' },
    } as (typeof entries)[number]);
    const preview = await sent(other.admin, packed(archiveOf(more)), '?preview=true');
    expect([said(preview).written, totals(said(preview))]).toEqual([
      false,
      { new: 1, equal: entries.length, differs: 0 },
    ]);
    expect((await other.admin.get('/v1/parts/ring-8')).status).toBe(404);
    expect(said(await sent(other.admin, packed(archiveOf(more)))).written).toBe(true);
    expect((await other.admin.get('/v1/parts/ring-8')).status).toBe(200);
  });

  test('is refused whole where anything differs, and names each with its line', async () => {
    const other = await restoredIn(house, small());
    const read = await other.admin.get('/v1/parts/ring-6');
    const tag = { 'if-match': read.headers.get('etag') ?? '' };
    expect((await other.admin.put('/v1/parts/ring-6', { ...ring, description: 'Seen' }, tag)).status).toBe(
      200,
    );
    await revise(other.admin, 'loom');
    const before = contentOf(await exported(other.admin));
    const added = { ...smallEntries().at(-1), type: 'audit', id: '01890000-0000-7000-8000-000000000002' };
    const more = archiveOf([...smallEntries(), added]);
    const preview = await sent(other.admin, packed(more), '?preview=true');
    expect(said(preview)).toMatchObject({
      written: false,
      differing: [
        { line: 3, entry: 'part ring-6' },
        { line: 8, entry: 'loom loom' },
      ],
    });
    const refused = await sent(other.admin, packed(more));
    expect(refused.status).toBe(409);
    expect(problem(refused).detail).toContain(
      '2 entries of the archive are in the club with another content',
    );
    expect(problem(refused).findings).toMatchObject([
      { where: 'line 3', found: 'part ring-6, with another content than in the club' },
      { where: 'line 8' },
    ]);
    expect(contentOf(await exported(other.admin))).toEqual(before);
  });

  test('counts a rate of the same day under another code as one that differs', async () => {
    const [clubEntry, ...rest] = smallEntries();
    const rate = (code: string) => ({
      ...rest[0],
      type: 'rate',
      body: { code, currency: 'USD', on: '2026-11-02', rate: '0.76' },
    });
    const other = await restoredIn(house, packed(archiveOf([clubEntry as { type: string }, rate('a')])));
    const got = await sent(other.admin, packed(archiveOf([clubEntry as { type: string }, rate('b')])));
    expect([got.status, problem(got).findings?.[0]?.found]).toEqual([
      409,
      'rate b, with another content than in the club',
    ]);
  });

  test('sets the terms of a club that has nothing else, and leaves those of another', async () => {
    const other = await house.club('CHF');
    const client = await other.as('admin');
    await loadSmall(client);
    const got = await sent(client, small());
    expect([got.status, problem(got).findings?.[0]?.found]).toEqual([
      409,
      'the club’s terms, with another content than in the club',
    ]);
    expect((await client.get('/v1/club')).json()).toMatchObject({ currency: 'CHF', settings: {} });
  });
});

test('a part that was merged in the archive and is not in the club, or the other way round, differs', async () => {
  const entries: { type: string }[] = smallEntries();
  const gone = (more: object) => ({
    ...entries[1],
    type: 'part',
    body: { ...ring, code: 'a-ring' },
    ...more,
  });
  const archive = (more: object) => packed(archiveOf(entries.toSpliced(1, 0, gone(more))));
  const mergedInto = 'ring-6';
  for (const [first, second] of [
    [{}, { mergedInto }],
    [{ mergedInto }, {}],
  ] as const) {
    const { admin } = await restoredIn(house, archive(first));
    expect(said(await sent(admin, archive(second), '?preview=true')).differing).toEqual([
      { line: 3, entry: 'part a-ring' },
    ]);
  }
});

describe('an archive that cannot be used', () => {
  const entries: { type: string }[] = smallEntries();
  const without = (type: string) => packed(archiveOf(entries.filter((entry) => entry.type !== type)));

  test.each([
    ['is cut off', () => packed(archiveOf(entries)).slice(0, -20), 400, /ends in the middle, at line \d+/],
    [
      'has lost its last line',
      () => packed(archiveOf(entries).slice(0, -1)),
      400,
      /ends in the middle, at line 11/,
    ],
    ['has a part too few', () => without('part'), 422, undefined],
    ['has a loom too few', () => without('loom'), 422, undefined],
    [
      'has a loom of a member who is missing',
      () =>
        packed(
          archiveOf(entries.map((entry) => (entry.type === 'loom' ? { ...entry, owner: SOMEBODY } : entry))),
        ),
      422,
      undefined,
    ],
    [
      'has a loom that its owner alone sees, and no owner',
      () =>
        packed(
          archiveOf(entries.map((entry) => (entry.type === 'loom' ? { ...entry, private: true } : entry))),
        ),
      422,
      undefined,
    ],
  ])('because it %s writes nothing, and says why', async (_what, bytes, status, why) => {
    const other = await restoredIn(house, bytes());
    expect(other.got.status).toBe(status);
    if (why) expect(problem(other.got).detail).toMatch(why);
    else expect(problem(other.got).findings?.[0]?.where).toMatch(/^line \d+/);
    expect(contentOf(await exported(other.admin))).toHaveLength(2);
    expect((await other.admin.get('/v1/club')).json()['currency']).toBe('EUR');
  });

  test('because it unpacks to a line that is too long is refused with 413, and so is one that comes too large', async () => {
    const admin = await (await house.club()).as('admin');
    const bomb = await sent(admin, new Uint8Array(gzipSync(Buffer.alloc(65 * MIB, 0x20))));
    expect([bomb.status, problem(bomb).detail]).toEqual([
      413,
      expect.stringContaining('Line 1 of the archive is longer'),
    ]);
    const large = await sent(admin, new Uint8Array(4 * MIB + 1));
    expect([large.status, problem(large).detail]).toEqual([
      413,
      expect.stringContaining('The archive is larger than 4194304 bytes (4 MiB)'),
    ]);
  });

  test('because it is sent as JSON is refused with 415', async () => {
    const admin = await (await house.club()).as('admin');
    expect((await admin.post('/v1/club/archive', {})).status).toBe(415);
  });

  const merged = (code: string, mergedInto: string, body: object = ring) => ({
    ...entries[1],
    type: 'part',
    body: { ...body, code },
    mergedInto,
  });
  const withParts = (...parts: { type: string }[]) => packed(archiveOf(entries.toSpliced(1, 0, ...parts)));

  test.each([
    [
      'leads to a part that is missing',
      () => withParts(merged('a-ring', 'the-ring')),
      'line 3, mergedInto',
      'a-ring merged into the-ring, which is not there',
      'The archive is incomplete: it does not have the part the-ring. Take the archive again from where it came, or add the part the-ring to the club and import again.',
    ],
    [
      'leads to a part that was merged itself',
      () => withParts(merged('a-ring', 'b-ring'), merged('b-ring', 'ring-6')),
      'line 3, mergedInto',
      'a-ring merged into b-ring, which was merged into ring-6 itself',
      'Take the archive again from where it came. It must say ring-6 here.',
    ],
    [
      'leads to a part of another kind',
      () => withParts(merged('a-ring', 'wire-red')),
      'line 3, mergedInto',
      'a-ring merged into wire-red, but it is a terminal and wire-red is a wire',
      'Only parts of one kind are merged. Take the archive again from where it came.',
    ],
    [
      'is what an offer sells',
      () => {
        const [at = 0] = entries.flatMap(({ type }, index) => (type === 'offer' ? [index] : []));
        const offer = entries[at] as { type: string; body: object };
        const ofMerged = { ...offer, body: { ...offer.body, code: 'a-pack', part: 'a-ring' } };
        return packed(
          archiveOf(entries.toSpliced(at, 0, ofMerged).toSpliced(1, 0, merged('a-ring', 'ring-6'))),
        );
      },
      'line 7, body, part',
      '"a-ring"',
      'The part a-ring was merged into ring-6. Take the archive again from where it came. It must say ring-6 here.',
    ],
  ])(
    'because a merged part %s writes nothing, and says how to fix it',
    async (_what, bytes, where, found, todo) => {
      for (const query of ['', '?preview=true']) {
        const club = await house.club('EUR');
        const admin = await club.as('admin');
        const got = await sent(admin, bytes(), query);
        expect([got.status, problem(got).findings]).toMatchObject([422, [{ where, found, todo }]]);
        expect(contentOf(await exported(admin))).toHaveLength(2);
      }
    },
  );
});
