import { gunzipSync, gzipSync } from 'node:zlib';
import { expect } from 'vitest';
import type { ArchiveImport } from '../../api/routes/archive.ts';
import type { Client, Got } from './client.ts';

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
