import { spawnSync } from 'node:child_process';
import { closeSync, mkdtempSync, openSync, rmSync, statfsSync, writeSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A small disk in memory, mounted by the test. */
export interface SmallDisk {
  folder: string;
  /** Fills it until so many bytes are free. */
  fill(left: number): void;
  /** Frees what was filled. */
  free(): void;
  remove(): void;
}

/** Mounts one; null where this machine or this user may not mount. */
export function smallDisk(mebibytes: number): SmallDisk | null {
  const folder = mkdtempSync(join(tmpdir(), 'loomwright-disk-'));
  const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${mebibytes}m,mode=0755`, 'tmpfs', folder]);
  if (mounted.status !== 0) {
    rmSync(folder, { recursive: true });
    return null;
  }
  const ballast = join(folder, 'ballast');
  return {
    folder,
    fill: (left) => {
      const block = Buffer.alloc(64 * 1024, 1);
      const file = openSync(ballast, 'a');
      for (;;) {
        const { bavail, bsize } = statfsSync(folder);
        const room = bavail * bsize - left;
        if (room <= 0) break;
        writeSync(file, block, 0, Math.min(block.length, room));
      }
      closeSync(file);
    },
    free: () => rmSync(ballast, { force: true }),
    remove: () => {
      spawnSync('umount', ['-l', folder]);
      rmSync(folder, { recursive: true, force: true });
    },
  };
}
