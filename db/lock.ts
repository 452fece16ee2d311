import { linkSync, readFileSync, renameSync, rmSync, unlinkSync, writeFileSync } from 'node:fs';

/** Another process holds the data folder. */
export class FolderInUse extends Error {
  readonly pid: number;
  constructor(folder: string, pid: number) {
    super(
      `The data folder ${folder} is in use by process ${pid}. Only one process can use it at a time: ` +
        `stop that one first, or give this one its own folder with LOOMWRIGHT_DATA.`,
    );
    this.name = 'FolderInUse';
    this.pid = pid;
  }
}

interface Holder {
  pid: number;
  /** When the process began, in the kernel's ticks, where it tells: a pid may have been given out again. */
  began: string | null;
}

const held = new Set<string>();

function beganAt(pid: number): string | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19] ?? null;
  } catch {
    return null;
  }
}

function isAlive(holder: Holder, path: string): boolean {
  if (holder.pid === process.pid) return held.has(path);
  try {
    process.kill(holder.pid, 0);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ESRCH') return false;
  }
  const began = beganAt(holder.pid);
  return began === null || holder.began === null || began === holder.began;
}

function read(path: string): { holder: Holder; text: string } | null {
  try {
    const text = readFileSync(path, 'utf8');
    return { holder: JSON.parse(text) as Holder, text };
  } catch {
    return null;
  }
}

/**
 * Takes the lock file for a folder that is there, taking over from a process that has died. Returns the way to let go.
 * Throws FolderInUse while another process lives.
 */
export function lockFolder(folder: string, path: string): () => void {
  const mine = `${path}.${process.pid}`;
  const text = JSON.stringify({ pid: process.pid, began: beganAt(process.pid) } satisfies Holder);
  for (let attempt = 0; attempt < 10; attempt++) {
    writeFileSync(mine, text, { mode: 0o600 });
    try {
      linkSync(mine, path);
      held.add(path);
      return () => {
        held.delete(path);
        if (read(path)?.text === text) rmSync(path, { force: true });
      };
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    } finally {
      rmSync(mine, { force: true });
    }
    const other = read(path);
    if (other && isAlive(other.holder, path)) throw new FolderInUse(folder, other.holder.pid);
    clearStale(path, other?.text);
  }
  throw new Error(`The lock ${path} cannot be taken. If no process uses ${folder}, remove the lock.`);
}

/** Moves a dead holder's lock away; where another starter was faster and the moved lock is its live one, puts it back. */
function clearStale(path: string, text: string | undefined): void {
  const aside = `${path}.stale-${process.pid}`;
  try {
    renameSync(path, aside);
    const moved = read(aside);
    if (moved && moved.text !== text && isAlive(moved.holder, path)) linkSync(aside, path);
    unlinkSync(aside);
  } catch (error) {
    if (!['ENOENT', 'EEXIST'].includes((error as NodeJS.ErrnoException).code ?? '')) throw error;
  }
}
