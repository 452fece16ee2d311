import { spawnSync } from 'node:child_process';
import { cpSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const ROOT = fileURLToPath(new URL('../../', import.meta.url));
/** Below node_modules, so that what is built finds the libraries. */
const FOLDER = join(ROOT, 'node_modules', '.cache', 'loomwright-tests');

/**
 * Translates the programs to JavaScript, unchecked, and gives the folder. The fault tests start a hundred processes and
 * more; each starts in less than half the time of one that translates its own source.
 */
export function buildPrograms(): string {
  rmSync(FOLDER, { recursive: true, force: true });
  const tsc = join(ROOT, 'node_modules', 'typescript', 'bin', 'tsc');
  const args = [tsc, '-p', 'tsconfig.build.json', '--noCheck', '--outDir', FOLDER];
  const run = spawnSync(process.execPath, args, { cwd: ROOT, encoding: 'utf8' });
  if (run.status !== 0) throw new Error(`The programs cannot be translated:\n${run.stdout}${run.stderr}`);
  cpSync(join(ROOT, 'db', 'migrations'), join(FOLDER, 'db', 'migrations'), { recursive: true });
  return FOLDER;
}
