import { createHash } from 'node:crypto';
import { gunzipSync, gzipSync } from 'node:zlib';
import { expect } from 'vitest';
import { newKey } from '../../api/newKey.ts';
import type { ArchiveImport } from '../../api/routes/archive.ts';
import { ENTRY_TYPES } from '../../db/archive/entries.ts';
import type { Client, Got } from './client.ts';
import { testFounder } from './founder.ts';
import type { TestClub, TestHouse } from './house.ts';
import { oneWireLoom, redOffer, redWire, ring, ringOffer, shop } from './fixtures.ts';

/** An archive as its lines. */
export function linesOf(packed: Uint8Array): string[] {
  return gunzipSync(packed).toString('utf8').trimEnd().split('\n');
}

export function packed(lines: readonly string[]): Uint8Array {
  return new Uint8Array(gzipSync(`${lines.join('\n')}\n`));
}

/** All but the first line, which tells the day and the name. */
export function contentOf(archive: Uint8Array): string[] {
  return linesOf(archive).slice(1);
}

export async function exported(admin: Client): Promise<Uint8Array> {
  const got = await admin.get('/v1/club/archive');
  expect([got.status, got.headers.get('content-type')]).toEqual([200, 'application/gzip']);
  return got.bytes;
}

export function sent(client: Client, archive: Uint8Array, query = ''): Promise<Got> {
  return client.send('POST', `/v1/club/archive${query}`, {
    headers: { 'content-type': 'application/gzip' },
    body: archive,
  });
}

/** What an import came to, in all. */
export function totals({ types }: ArchiveImport): { new: number; equal: number; differs: number } {
  const sum = (how: 'new' | 'equal' | 'differs') => types.reduce((all, share) => all + share[how], 0);
  return { new: sum('new'), equal: sum('equal'), differs: sum('differs') };
}

/** An archive of these entries, each an object with its type; its head and its end are made here. */
export function archiveOf(entries: readonly { type: string }[]): string[] {
  const lines = entries.map((entry) => JSON.stringify(entry));
  const counts = Object.fromEntries(ENTRY_TYPES.map((type) => [type, 0]));
  for (const { type } of entries) counts[type] = (counts[type] ?? 0) + 1;
  return [
    JSON.stringify({
      format: 'loomwright-archive',
      version: 1,
      club: 'A club',
      exportedAt: '2026-11-27T10:00:00.000Z',
    }),
    ...lines,
    endOf(lines, counts),
  ];
}

/** The last line, as docs/archive.md has it. */
function endOf(lines: readonly string[], counts: object): string {
  const sha256 = createHash('sha256')
    .update(lines.map((line) => `${line}\n`).join(''))
    .digest('hex');
  return JSON.stringify({ type: 'end', counts, sha256 });
}

const dates = { createdAt: '2026-11-02T10:00:00.000Z', updatedAt: '2026-11-03T11:12:13.456Z' };

/** A small club, entry by entry, in the order of an archive. */
export function smallEntries() {
  const entry = (type: string, body: object) => ({ type, body, version: 1, ...dates });
  const { code, ...body } = oneWireLoom();
  return [
    { type: 'club', terms: { currency: 'GBP', settings: { slackPercent: 4 } } },
    entry('part', ring),
    entry('part', redWire),
    entry('supplier', shop),
    entry('offer', redOffer),
    entry('offer', ringOffer),
    { type: 'loom', code, latestRevision: 2, ...dates },
    ...[1, 2].map((revision) => ({
      type: 'revision',
      loom: code,
      revision,
      createdAt: dates.createdAt,
      createdBy: 'key:somebody',
      body: { ...body, note: `as of revision ${revision}` },
    })),
    {
      type: 'audit',
      id: '01890000-0000-7000-8000-000000000001',
      at: dates.createdAt,
      actor: 'key:somebody',
      requestId: 'r-1',
      action: 'part.create',
      subject: ring.code,
    },
  ];
}

/** A club of its own with what an archive brings. */
export async function restoredIn(
  house: TestHouse,
  bytes: Uint8Array,
): Promise<{ club: TestClub; admin: Client; got: Got }> {
  const club = await house.club('EUR');
  const admin = await club.as('admin');
  return { club, admin, got: await sent(admin, bytes) };
}

/** With a new key, as it is made on the command line, of a member who is there. */
export async function asMember(house: TestHouse, club: string, member: string): Promise<Client> {
  const wish = { club, role: 'admin', label: 'of a test', make: false, currency: 'EUR' } as const;
  const made = await newKey(house.database, testFounder, { ...wish, member });
  expect(made.member).toMatchObject({ name: member, made: false });
  return house.anonymous.with({ authorization: `Bearer ${made.secret}` });
}

/** Adds a revision of a loom, with a note of characters that are easily lost. */
export async function revise(client: Client, loom: string): Promise<void> {
  const read = await client.get(`/v1/looms/${loom}`);
  const body = { ...read.json(), note: 'Measured again: “the left lamp”, 12 Ω, \u2028 and 🔧' };
  const tag = { 'if-match': read.headers.get('etag') ?? '' };
  expect((await client.post(`/v1/looms/${loom}/revisions`, body, tag)).status).toBe(201);
}
