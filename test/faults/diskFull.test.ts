import { join } from 'node:path';
import { mkdirSync } from 'node:fs';
import { afterAll, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { figure } from '../support/figures.ts';
import type { Client } from '../support/client.ts';
import { loadSmall } from '../support/fixtures.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { postgresOfOwn, type OwnPostgres } from '../support/postgresOfOwn.ts';
import { smallDisk, type SmallDisk } from '../support/smallDisk.ts';
import { fillUp, isNotFull } from '../support/fillUp.ts';

// The tables are on a small disk; the server's own log is not, so that the server itself outlives the full disk.
let disk: SmallDisk | null;
let server: OwnPostgres | undefined;
let house: TestHouse | undefined;
let editor: Client;

beforeAll(async () => {
  disk = smallDisk(32);
  if (!disk) return;
  server = await postgresOfOwn();
  const folder = join(disk.folder, 'tables');
  mkdirSync(folder, { mode: 0o700 });
  server.give(folder);
  await server.admin(async (sql) => {
    await sql.unsafe(`create tablespace small location '${folder}'`);
    await sql.unsafe('create database small tablespace small');
  });
  house = await openHouse({ databaseUrl: server.url.replace(/postgres$/, 'small') });
  editor = await (await house.club()).as('editor');
  await loadSmall(editor);
});
afterAll(async () => {
  await house?.close();
  await server?.remove();
  disk?.remove();
});
beforeEach((context) => {
  if (!disk) context.skip('no disk can be mounted here: this needs root');
});

const ready = async () => (await house?.anonymous.get('/readyz')) ?? expect.fail('there is no house');

describe('a full disk under PostgreSQL', () => {
  test('is told to who writes and by readiness; reading goes on, and writing as soon as there is room', async () => {
    disk?.fill(0);
    const { written, refused } = await fillUp(editor);
    expect([refused.status, refused.json()]).toEqual([
      507,
      expect.objectContaining({ title: 'The disk is full' }),
    ]);
    expect(refused.json<{ detail: string }>().detail).toContain('Nothing was stored.');
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    const down = await ready();
    expect([down.status, down.text]).toEqual([
      503,
      expect.stringContaining('The disk of the database is full'),
    ]);
    const page = await editor.get('/v1/parts?limit=1');
    expect(page.status).toBe(200);
    disk?.free();
    expect((await ready()).status).toBe(200);
    expect(isNotFull(await fillUp(editor, 20))).toBe(true);
    figure('parts written to a full disk before PostgreSQL refused one', written, 'parts');
  });
});
