import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { connectMemory } from '../../db/connect.ts';

/** Migrates an empty PGlite once and keeps it as a file, so that each test file opens it instead of making its own. */
export async function dumpEmptyFolder(): Promise<{ file: string; remove: () => Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'loomwright-dump-'));
  const database = await connectMemory();
  const dump = await database.client.dumpDataDir('none');
  await database.close();
  const file = join(folder, 'empty.tar');
  await writeFile(file, Buffer.from(await dump.arrayBuffer()));
  return { file, remove: () => rm(folder, { recursive: true, force: true }) };
}
