import { accessSync, constants, readdirSync } from 'node:fs';
import { delimiter, join } from 'node:path';

/** Where the servers' programs are on this machine; null where they are not installed. */
export interface Binaries {
  /** The folder that holds both initdb and postgres. */
  postgresFolder: string | null;
  redisServer: string | null;
}

function runnable(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

/** Debian keeps the server's programs out of PATH, one folder a version; the newest comes first. */
export function debianFolders(root = '/usr/lib/postgresql'): string[] {
  try {
    return readdirSync(root)
      .sort((a, b) => Number(b) - Number(a))
      .map((version) => join(root, version, 'bin'));
  } catch {
    return [];
  }
}

/** Looks along `path` (PATH as it stands where left out) and in Debian's folders. */
export function findBinaries(path = process.env['PATH'] ?? '', postgresFolders = debianFolders()): Binaries {
  const folders = path.split(delimiter).filter(Boolean);
  const holdsPostgres = (folder: string) =>
    runnable(join(folder, 'initdb')) && runnable(join(folder, 'postgres'));
  return {
    postgresFolder: [...folders, ...postgresFolders].find(holdsPostgres) ?? null,
    redisServer: folders.map((folder) => join(folder, 'redis-server')).find(runnable) ?? null,
  };
}
