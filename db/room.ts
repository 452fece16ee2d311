import { sql } from 'drizzle-orm';
import { statfsSync } from 'node:fs';
import type { Db } from './connect.ts';
import { StorageFull } from './outage.ts';

/**
 * Free bytes below which the embedded database is not written to. It appends to a log in files of 16 MiB each, and ends, or
 * turns in circles, where it cannot make the next one: what it needs for that, for a checkpoint and for its last words is
 * kept free. Found by filling a small disk; no source.
 */
const KEPT_FREE = 40 * 1024 ** 2;
/** What a new folder takes besides. */
const NEW_FOLDER = 60 * 1024 ** 2;
/** A row is written to the log, to its table and to its indexes. */
const COPIES = 4;

const WRITES = /^\s*(insert|update|delete|merge|create|alter)\b/i;

/** Bytes that this process may still write in a folder. */
function freeBytes(folder: string): number {
  const { bavail, bsize } = statfsSync(folder);
  return bavail * bsize;
}

/** Error: StorageFull where a database cannot be opened in the folder for want of room. */
export function requireRoomToOpen(folder: string, isNew: boolean): void {
  const needed = KEPT_FREE / 2 + (isNew ? NEW_FOLDER : 0);
  const free = freeBytes(folder);
  if (free < needed)
    throw new StorageFull(
      `The disk of the data folder ${folder} is full: ${mib(free)} MiB are free, and ${mib(needed)} MiB are needed. Free some room, then start again.`,
    );
}

/** A Drizzle logger that refuses a statement which writes before a full disk harms the database. Reads pass. */
export function roomKeeper(folder: string): { logQuery(query: string, params: unknown[]): void } {
  return {
    logQuery(query, params) {
      if (!WRITES.test(query)) return;
      const bytes = params.reduce<number>(
        (sum, value) => sum + (typeof value === 'string' ? value.length : 8),
        query.length,
      );
      if (freeBytes(folder) < KEPT_FREE + COPIES * bytes)
        throw new StorageFull('The disk of the data folder is full.', { code: '53100' });
    },
  };
}

function mib(bytes: number): number {
  return Math.floor(bytes / 1024 ** 2);
}

/** What is written to find out whether there is room: more than what most calls write. */
const TRIED = 128 * 1024;

/** Whether there is room again, found out by writing what is not kept. Throws what the database throws. */
async function tryToWrite(db: Db): Promise<void> {
  await db.transaction(async (tx) => {
    await tx.execute(sql`create temporary table loomwright_room (text text) on commit drop`);
    await tx.execute(sql`insert into loomwright_room values (${'x'.repeat(TRIED)})`);
  });
}

/** Remembers that a write found no room, until one succeeds. */
export interface Room {
  full: () => void;
  /** Rejects with StorageFull while there is no room. Writes only where the last write found none. */
  check: () => Promise<void>;
}

export function roomOf(db: () => Db): Room {
  let isFull = false;
  return {
    full: () => void (isFull = true),
    check: async () => {
      if (!isFull) return;
      await tryToWrite(db());
      isFull = false;
    },
  };
}
