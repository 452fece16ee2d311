import { sql } from 'drizzle-orm';
import { readFileSync } from 'node:fs';
import type { Database } from './connect.ts';

/** What a process asks its database before it calls itself ready. */
export function databaseParts(
  database: Database,
): Record<'database' | 'migrations' | 'disk', () => Promise<void>> {
  return {
    database: () => database.ping(),
    // A database that is away is told by the other.
    migrations: () =>
      database.ping().then(
        () => requireMigrated(database),
        () => undefined,
      ),
    disk: () => database.room(),
  };
}

/** Rejects where the database has fewer migrations than this program, as after an older dump was put under it. */
async function requireMigrated(database: Database): Promise<void> {
  const { entries } = JSON.parse(
    readFileSync(new URL('./migrations/meta/_journal.json', import.meta.url), 'utf8'),
  ) as { entries: unknown[] };
  const table = sql`select 1 from loomwright_migrations offset ${entries.length - 1} limit 1`;
  const found: unknown = await database.db.execute(table);
  const rows = Array.isArray(found) ? found : (found as { rows: unknown[] }).rows;
  if (rows.length === 0) throw new Error('the database is behind this program');
}
