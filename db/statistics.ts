import { sql } from 'drizzle-orm';
import type { Database } from './connect.ts';

/** A table is looked at again once it has grown by this many pages of 8 kB and by this share. */
const GROWN_PAGES = 16;
const GROWN_SHARE = 0.2;

/**
 * Gathers the planner's statistics of tables that have grown since they were gathered last, and tells which. PGlite has no
 * autovacuum that would do so, and plans made without them take ten times as long. On PostgreSQL there is nothing to do.
 */
export async function refreshStatistics(database: Database): Promise<string[]> {
  if (database.mode !== 'embedded') return [];
  const grown = await database.db.transaction((tx) =>
    tx.select({ name: sql<string>`relname` }).from(
      sql`(
          select relname from pg_class
          where relnamespace = 'public'::regnamespace and relkind = 'r'
            and pg_relation_size(oid) / current_setting('block_size')::int
              > greatest(relpages, 0) * ${1 + GROWN_SHARE}::float8 + ${GROWN_PAGES}::int
          order by relname
        ) as grown`,
    ),
  );
  // One at a time: the one connection is free for others between two tables.
  for (const { name } of grown)
    await database.db.transaction(async (tx) => {
      // The owner's right; this one connection works as a role that owns nothing.
      await tx.execute(sql`set local role none`);
      await tx.execute(sql`analyze ${sql.identifier(name)}`);
    });
  return grown.map(({ name }) => name);
}
