import { PGlite } from '@electric-sql/pglite';
import type { PgDatabase, PgQueryResultHKT, PgTransaction } from 'drizzle-orm/pg-core';
import type { ExtractTablesWithRelations } from 'drizzle-orm';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import postgres from 'postgres';
import { lockFolder } from './lock.ts';
import { APP_ROLE, migrateEmbedded, migrateService } from './migrate.ts';
import { preparing } from './prepared.ts';
import type { Opening } from './scope.ts';
import * as schema from './schema/index.ts';

type Schema = typeof schema;
type Db = PgDatabase<PgQueryResultHKT, Schema>;
export type Tx = PgTransaction<PgQueryResultHKT, Schema, ExtractTablesWithRelations<Schema>>;

/** One door to either database. Queries go through asClub or asSystem; `db` itself sees no row of any club. */
export interface Database {
  readonly mode: 'embedded' | 'service';
  readonly db: Db;
  /** What the next transaction on PostgreSQL sends with its BEGIN. */
  readonly opening?: Opening;
  /** Rejects where the database does not answer. */
  ping(): Promise<void>;
  close(): Promise<void>;
}

export interface EmbeddedOptions {
  /** The folder that holds the data; made where it is missing. */
  folder: string;
  /** A dump of a migrated, empty folder to start from: saves the first start of every test file. */
  startFrom?: Blob;
}

/**
 * PGlite in a folder, migrated. Holds a lock beside the data for as long as it is open; throws FolderInUse where another
 * process holds it.
 */
export async function connectEmbedded(options: EmbeddedOptions): Promise<Database> {
  mkdirSync(options.folder, { recursive: true });
  const unlock = lockFolder(options.folder, join(options.folder, 'loomwright.lock'));
  try {
    const client = await PGlite.create({
      dataDir: join(options.folder, 'pg'),
      ...(options.startFrom ? { loadDataDir: options.startFrom } : {}),
    });
    return await openEmbedded(client, unlock);
  } catch (error) {
    unlock();
    throw error;
  }
}

/** PGlite in memory, for tests. */
export async function connectMemory(startFrom?: Blob): Promise<Database & { client: PGlite }> {
  const client = await PGlite.create(startFrom ? { loadDataDir: startFrom } : {});
  return { ...(await openEmbedded(client, () => undefined)), client };
}

async function openEmbedded(client: PGlite, unlock: () => void): Promise<Database> {
  await migrateEmbedded(client);
  // PGlite's user is a superuser, whom no policy holds: the one connection works as a role that they do hold.
  await client.exec(`SET ROLE ${APP_ROLE}`);
  const db = drizzlePglite(client, { schema });
  return {
    mode: 'embedded',
    db,
    ping: async () => void (await client.query('select 1')),
    close: async () => {
      try {
        await client.close();
      } finally {
        unlock();
      }
    },
  };
}

export interface ServiceOptions {
  url: string;
  maxConnections?: number;
}

/** PostgreSQL, migrated under an advisory lock. Any number of processes may do this at once. */
export async function connectService(options: ServiceOptions): Promise<Database> {
  const { bypasses } = await migrateService(options.url);
  const client = postgres(options.url, {
    max: options.maxConnections ?? 10,
    onnotice: () => undefined,
    // A superuser is held by no policy: its connections start as a role that the policies do hold.
    connection: bypasses ? { role: APP_ROLE } : {},
  });
  const opening: Opening = {};
  return {
    mode: 'service',
    opening,
    db: drizzlePostgres(preparing(client, opening), { schema }),
    ping: async () => void (await client`select 1`),
    close: () => client.end({ timeout: 5 }),
  };
}
