import { PGlite } from '@electric-sql/pglite';
import type { PgDatabase, PgQueryResultHKT, PgTransaction } from 'drizzle-orm/pg-core';
import type { ExtractTablesWithRelations } from 'drizzle-orm';
import { drizzle as drizzlePglite } from 'drizzle-orm/pglite';
import { drizzle as drizzlePostgres } from 'drizzle-orm/postgres-js';
import { existsSync } from 'node:fs';
import { join } from 'node:path';
import postgres from 'postgres';
import { closeFiles, ownFolder } from './folder.ts';
import { guardedDb } from './guard.ts';
import { lockFolder } from './lock.ts';
import { APP_ROLE, migrateEmbedded, migrateService } from './migrate.ts';
import { preparing } from './prepared.ts';
import { requireRoomToOpen, roomKeeper, roomOf } from './room.ts';
import * as schema from './schema/index.ts';
import type { Opening } from './scope.ts';
import { LIMITS, poolOptions, type Limits } from './limits.ts';

type Schema = typeof schema;
export type Db = PgDatabase<PgQueryResultHKT, Schema>;
export type Tx = PgTransaction<PgQueryResultHKT, Schema, ExtractTablesWithRelations<Schema>>;

/** How long connections that are given up may end what they have in hand. */
const GOODBYE_SECONDS = 5;

/** One door to either database. Queries go through asClub or asSystem; `db` itself sees no row of any club. */
export interface Database {
  readonly mode: 'embedded' | 'service';
  readonly db: Db;
  /** What the next transaction on PostgreSQL sends with its BEGIN. */
  readonly opening?: Opening;
  /** Rejects where the database does not answer. */
  ping(): Promise<void>;
  /** Rejects while there is no room on its disk: known from the last write, and tried again from then on. */
  room(): Promise<void>;
  close(): Promise<void>;
}

export interface EmbeddedOptions {
  /** The folder that holds the data; made where it is missing. */
  folder: string;
  /** A dump of a migrated, empty folder to start from: saves the first start of every test file. */
  startFrom?: Blob;
  /** Called where the folder was open to other accounts of the machine, which it is no longer. */
  onClosedToOthers?: () => void;
}

/**
 * PGlite in a folder that its owner alone can read, migrated. Holds a lock beside the data for as long as it is open. Throws
 * FolderInUse where another process holds it, FolderNotYours where it is another account's.
 */
export async function connectEmbedded(options: EmbeddedOptions): Promise<Database> {
  const { folder } = options;
  if (ownFolder(folder)) options.onClosedToOthers?.();
  const dataDir = join(folder, 'pg');
  requireRoomToOpen(folder, !existsSync(dataDir));
  const release = lockFolder(folder, join(folder, 'loomwright.lock'));
  const unlock = () => {
    try {
      closeFiles(folder);
    } finally {
      release();
    }
  };
  try {
    closeFiles(folder);
    const client = await PGlite.create({
      dataDir,
      ...(options.startFrom ? { loadDataDir: options.startFrom } : {}),
    });
    closeFiles(folder);
    return await openEmbedded(client, unlock, folder);
  } catch (error) {
    release();
    throw error;
  }
}

/** PGlite in memory, for tests. */
export async function connectMemory(startFrom?: Blob): Promise<Database & { client: PGlite }> {
  const client = await PGlite.create(startFrom ? { loadDataDir: startFrom } : {});
  return { ...(await openEmbedded(client, () => undefined)), client };
}

async function openEmbedded(client: PGlite, unlock: () => void, folder?: string): Promise<Database> {
  await migrateEmbedded(client);
  // PGlite's user is a superuser, whom no policy holds: the one connection works as a role that they do hold.
  await client.exec(`SET ROLE ${APP_ROLE}`);
  const pool = {
    db: drizzlePglite(client, { schema, ...(folder === undefined ? {} : { logger: roomKeeper(folder) }) }),
  };
  const room = roomOf(() => pool.db);
  return {
    mode: 'embedded',
    db: guardedDb({ pool: () => pool, onFull: room.full }),
    ping: async () => void (await client.query('select 1')),
    room: room.check,
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
  limits?: Limits;
}

/** PostgreSQL, migrated under an advisory lock. Any number of processes may do this at once. */
export async function connectService(options: ServiceOptions): Promise<Database> {
  const { bypasses } = await migrateService(options.url);
  const limits = options.limits ?? LIMITS;
  const opening: Opening = {};
  const openPool = () => {
    const client = postgres(options.url, {
      ...poolOptions(limits),
      max: options.maxConnections ?? 10,
      onnotice: () => undefined,
      connection: {
        ...poolOptions(limits).connection,
        // A superuser is held by no policy: its connections start as a role that the policies do hold.
        ...(bypasses ? { role: APP_ROLE } : {}),
      },
    });
    return { client, db: drizzlePostgres(preparing(client, opening), { schema }) };
  };
  let pool = openPool();
  const room = roomOf(() => pool.db);
  return {
    mode: 'service',
    opening,
    db: guardedDb({
      pool: () => pool,
      waitMs: limits.waitMs,
      onReadOnly: (used) => {
        if (used !== pool) return;
        pool = openPool();
        void used.client.end({ timeout: GOODBYE_SECONDS });
      },
      onFull: room.full,
    }),
    ping: async () => void (await pool.client`select 1`),
    room: room.check,
    close: () => pool.client.end({ timeout: GOODBYE_SECONDS }),
  };
}
