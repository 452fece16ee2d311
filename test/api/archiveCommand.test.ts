import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, expect, onTestFinished, test } from 'vitest';
import { contentOf, exported } from '../support/archives.ts';
import { serverOf } from '../support/callerInto.ts';
import { openHouse, type TestHouse } from '../support/house.ts';
import { processes } from '../support/processes.ts';

const started = processes();
let house: TestHouse;
beforeAll(async () => {
  house = await openHouse();
});
afterEach(() => started.endAll());
afterAll(() => house.close());

test('An export with --overwrite replaces a file once the new archive is whole, and leaves it where it fails', async () => {
  const admin = await (await house.club()).as('admin');
  const server = await serverOf(house);
  const folder = mkdtempSync(join(tmpdir(), 'archive-'));
  onTestFinished(async () => {
    rmSync(folder, { recursive: true });
    await server.stop();
  });
  const file = join(folder, 'club.jsonl.gz');
  writeFileSync(file, 'earlier');
  const run = async (role: string) => {
    const { secret } = (await admin.post('/v1/keys', { role, label: 'of the command' })).json();
    const command = started.node(['api/archive.ts', 'export', file, '--overwrite'], {
      LOOMWRIGHT_KEY: String(secret),
      PORT: new URL(server.url).port,
    });
    return [await command.ended, command.printed()];
  };

  expect(await run('editor')).toEqual([1, expect.stringContaining('admin')]);
  expect(readFileSync(file, 'utf8')).toBe('earlier');
  expect(await run('admin')).toEqual([0, expect.stringContaining(file)]);
  expect(contentOf(readFileSync(file))).toEqual(contentOf(await exported(admin)));
  expect(readdirSync(folder)).toEqual(['club.jsonl.gz']);
}, 60_000);
