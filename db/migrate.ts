import type { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator';
import { fileURLToPath } from 'node:url';
import postgres from 'postgres';

/** The role that the service works as where its login bypasses row-level security. */
export const APP_ROLE = 'loomwright_app';

const CONFIG = {
  migrationsFolder: fileURLToPath(new URL('./migrations', import.meta.url)),
  migrationsSchema: 'public',
  migrationsTable: 'loomwright_migrations',
};

/** An arbitrary number of ours: whoever migrates a database holds this advisory lock. */
const LOCK = 7_006_001;

export async function migrateEmbedded(client: PGlite): Promise<void> {
  await migratePglite(drizzlePglite(client), CONFIG);
}

/** Brings a database up to date on a connection of its own. Says whether the login bypasses row-level security. */
export async function migrateService(url: string): Promise<{ bypasses: boolean }> {
  const client = postgres(url, { max: 1, onnotice: () => undefined });
  try {
    await client`select pg_advisory_lock(${LOCK})`;
    await migratePostgres(drizzlePostgres(client), CONFIG);
    const [login] = await client<{ bypasses: boolean; has_role: boolean }[]>`
      select rolsuper or rolbypassrls as bypasses, exists (select 1 from pg_roles where rolname = ${APP_ROLE}) as has_role
      from pg_roles where rolname = session_user`;
    if (login?.bypasses && !login.has_role)
      throw new Error(
        `The database login bypasses row-level security and may not create the role ${APP_ROLE}. ` +
          `Use a login without BYPASSRLS that owns the database, or a superuser.`,
      );
    return { bypasses: login?.bypasses ?? false };
  } finally {
    await client.end({ timeout: 5 });
  }
}
