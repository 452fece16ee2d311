import { chmodSync, lstatSync, mkdirSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const FOLDER_MODE = 0o700;
const FILE_MODE = 0o600;
/** Bits of group and others. */
const OPEN = 0o077;

/** The data folder, or something in it, belongs to another account. */
class FolderNotYours extends Error {
  constructor(path: string, owner: number, me: number) {
    super(
      `The data folder ${path} belongs to another account of this machine (user id ${owner}; this process runs as ${me}). ` +
        `Start it as that account, or set LOOMWRIGHT_DATA to a folder of your own.`,
    );
    this.name = 'FolderNotYours';
  }
}

/**
 * Makes a folder that its owner alone can open, or takes the rights of group and others from one that is there. Whether it
 * was open before. Throws FolderNotYours. Where the system has no such rights, as on Windows, the folder is only made.
 */
export function ownFolder(folder: string): boolean {
  mkdirSync(folder, { recursive: true, mode: FOLDER_MODE });
  const me = process.getuid?.();
  if (me === undefined) return false;
  const { uid, mode } = statSync(folder);
  if (uid !== me) throw new FolderNotYours(folder, uid, me);
  if ((mode & OPEN) === 0) return false;
  chmodSync(folder, FOLDER_MODE);
  return true;
}

/** What we make in a data folder. Whatever else lies there is somebody else's, and stays as it is. */
const OURS = ['pg', 'admin-key', 'loomwright.lock'];

/**
 * Takes the rights of group and others from all that is ours in a data folder: the database makes files that everybody may
 * write, whatever the umask. What a link leads to is left alone. Throws FolderNotYours where something is another account's.
 */
export function closeFiles(folder: string): void {
  const me = process.getuid?.();
  if (me !== undefined) for (const name of OURS) closeTo(me, join(folder, name));
}

function closeTo(me: number, path: string): void {
  // The database, or another process that tries for the lock, may take a file away meanwhile.
  const found = lstatSync(path, { throwIfNoEntry: false });
  if (!found || found.isSymbolicLink()) return;
  if (found.uid !== me) throw new FolderNotYours(path, found.uid, me);
  if ((found.mode & OPEN) !== 0) close(path, found.isDirectory());
  if (found.isDirectory()) for (const entry of readdirSync(path)) closeTo(me, join(path, entry));
}

function close(path: string, isFolder: boolean): void {
  try {
    chmodSync(path, isFolder ? FOLDER_MODE : FILE_MODE);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  }
}
