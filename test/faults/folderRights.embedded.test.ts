import {
  chmodSync,
  chownSync,
  cpSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest';
import { processes, type Started } from '../support/processes.ts';

// What another account of the same machine can do with a data folder: nothing.
const started = processes();
const isRoot = process.getuid?.() === 0;
let around: string;
let first: string;
let folder: string;

// One first start for all: each test has a copy of its folder.
beforeAll(async () => {
  around = mkdtempSync(join(tmpdir(), 'loomwright-rights-'));
  first = join(around, 'first');
  folder = first;
  await startAndStop();
}, 90_000);
beforeEach(() => {
  folder = mkdtempSync(join(around, 'data-'));
  cpSync(first, folder, { recursive: true });
});
afterEach(() => started.endAll());
afterAll(() => rmSync(around, { recursive: true, force: true }));

/** A start as it should be, and the stop after it. What it printed. */
async function startAndStop(): Promise<string> {
  const server = start();
  await server.until(/answers at/, 60_000);
  server.kill('SIGTERM');
  expect(await server.ended).toBe(0);
  return server.printed();
}

function start(): Started {
  return started.node(['api/main.ts'], { LOOMWRIGHT_DATA: folder, PORT: '0', LOG_LEVEL: 'warn' });
}

/** What is in the folder, and the folder, that others than its owner may do something with. */
function openToOthers(): string[] {
  const all = ['.', ...(readdirSync(folder, { recursive: true }) as string[])];
  return all.filter((path) => (statSync(join(folder, path)).mode & 0o077) !== 0);
}

describe('a data folder', () => {
  test('is its owner’s alone, with every file in it, once its first start is over', async () => {
    folder = first;
    expect(statSync(folder).mode & 0o777).toBe(0o700);
    expect(openToOthers()).toEqual([]);
    expect(readdirSync(join(folder, 'pg')).length).toBeGreaterThan(10);
  });

  test('that an earlier version left open to others is closed at the next start, which tells so; what a link leads to stays as it is', async () => {
    for (const path of readdirSync(folder, { recursive: true }) as string[]) {
      const whole = join(folder, path);
      chmodSync(whole, statSync(whole).isDirectory() ? 0o777 : 0o666);
    }
    chmodSync(folder, 0o755);
    const elsewhere = join(around, 'elsewhere');
    writeFileSync(elsewhere, '', { mode: 0o644 });
    chmodSync(elsewhere, 0o644);
    symlinkSync(elsewhere, join(folder, 'pg', 'link'));
    // A folder that has other things in it as well.
    const script = join(folder, 'script');
    writeFileSync(script, '');
    chmodSync(script, 0o755);
    expect(await startAndStop()).toMatch(/was open to other accounts of this machine/);
    expect(openToOthers()).toEqual(expect.arrayContaining(['script', join('pg', 'link')]));
    expect(openToOthers()).toHaveLength(2);
    expect(statSync(script).mode & 0o777).toBe(0o755);
    expect(await startAndStop()).not.toMatch(/was open/);
    expect(statSync(elsewhere).mode & 0o777).toBe(0o644);
  });

  test.runIf(isRoot)(
    'that belongs to another account is refused with a sentence, and nothing in it is touched',
    async () => {
      const server = start();
      await server.until(/answers at/);
      server.kill('SIGTERM');
      await server.ended;
      chownSync(folder, 65_534, 65_534);
      const before = statSync(join(folder, 'pg')).mtimeMs;
      for (const args of [['api/main.ts'], ['api/key.ts', '--club', 'My club', '--role', 'viewer']]) {
        const refused = started.node(args, { LOOMWRIGHT_DATA: folder, PORT: '0' });
        expect(await refused.ended).toBe(1);
        expect(refused.printed()).toMatch(/belongs to another account of this machine \(user id 65534;/);
      }
      expect(statSync(join(folder, 'pg')).mtimeMs).toBe(before);
      expect(statSync(folder).uid).toBe(65_534);
    },
  );

  test.runIf(isRoot)('with a file that belongs to another account is refused as well', async () => {
    chownSync(join(folder, 'pg', 'postgresql.conf'), 65_534, 65_534);
    const refused = start();
    expect(await refused.ended).toBe(1);
    expect(refused.printed()).toMatch(/postgresql\.conf belongs to another account/);
  });
});
