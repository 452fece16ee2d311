import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, onTestFinished } from 'vitest';

/** The migrations as they were when there was but the first. */
export const firstMigration = () => migrationsAt(1);

/** The migrations as they were when there were so many. */
export function migrationsAt(count: number) {
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-migrations-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  cpSync(fileURLToPath(new URL('../../db/migrations', import.meta.url)), folder, { recursive: true });
  const journal = join(folder, 'meta', '_journal.json');
  const { entries, ...rest } = JSON.parse(readFileSync(journal, 'utf8')) as { entries: object[] };
  expect(entries.length).toBeGreaterThan(count);
  writeFileSync(journal, JSON.stringify({ ...rest, entries: entries.slice(0, count) }));
  return {
    migrationsFolder: folder,
    migrationsSchema: 'public',
    migrationsTable: 'loomwright_migrations',
  };
}
