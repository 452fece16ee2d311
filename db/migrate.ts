import type { PGlite } from '@electric-sql/pglite';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { migrate as migratePglite } from 'drizzle-orm/pglite/migrator';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { migrate as migratePostgres } from 'drizzle-orm/postgres-js/migrator';
import { fileURLToPath } from 'node:url';
import postgres from 'postgres';
import { sqlState } from './errors.ts';
import { migrationOptions } from './limits.ts';

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
  const client = postgres(url, { ...migrationOptions, max: 1, onnotice: () => undefined });
  try {
    await client`select pg_advisory_lock(${LOCK})`;
    await migratePostgres(drizzlePostgres(client), CONFIG);
    const [login] = await client<{ bypasses: boolean }[]>`
      select rolsuper or rolbypassrls as bypasses from pg_roles where rolname = session_user`;
    const bypasses = login?.bypasses ?? false;
    if (bypasses) await enableAppRole(client);
    return { bypasses };
  } finally {
    await client.end({ timeout: 5 });
  }
}

const INSUFFICIENT_PRIVILEGE = '42501';

/**
 * Sees to it that a login whom no policy holds can work as a role that they do hold. Done at each start and not only
 * while migrating: the login may be another than the one that made the tables.
 */
async function enableAppRole(client: postgres.Sql): Promise<void> {
  try {
    await client.begin(async (sql) => {
      const [role] = await sql`select 1 from pg_roles where rolname = ${APP_ROLE}`;
      if (!role) await sql`create role ${sql(APP_ROLE)} nologin nosuperuser nobypassrls`;
      const [schema] = await sql<{ name: string }[]>`select current_schema() as name`;
      const name = schema?.name ?? 'public';
      await sql`grant usage on schema ${sql(name)} to ${sql(APP_ROLE)}`;
      await sql`grant select, insert, update, delete on all tables in schema ${sql(name)} to ${sql(APP_ROLE)}`;
      await sql`set local role ${sql(APP_ROLE)}`;
    });
  } catch (error) {
    if (sqlState(error) !== INSUFFICIENT_PRIVILEGE) throw error;
    throw new Error(
      `The database login bypasses row-level security and cannot act as the role ${APP_ROLE}. ` +
        `Use a login without BYPASSRLS that owns the database, or a superuser.`,
    );
  }
}
