import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ADMIN_KEY_FILE } from '../db/first.ts';
import { readConfig } from '../worker/config.ts';
import { faultsOf } from '../worker/engine/model/faults.ts';
import type { JobInput } from '../worker/engine/model/job.ts';
import { readJob } from '../worker/engine/model/upgrade.ts';
import { callerOf, loadJob } from './client.ts';

const USAGE = `Loads a job file's parts, suppliers, offers and looms into your club, through a running server:

  npm run load -- FILE [--url http://127.0.0.1:8080]

The key is taken from LOOMWRIGHT_KEY, else from the admin-key of the data folder. Entries that are there already stay as they are.
`;

function keyFrom(env: Record<string, string | undefined>): string {
  if (env['LOOMWRIGHT_KEY']) return env['LOOMWRIGHT_KEY'];
  const { store } = readConfig(env);
  if (store.mode === 'service') throw new Error('Set LOOMWRIGHT_KEY to a key with the role editor.');
  return readFileSync(join(store.folder, ADMIN_KEY_FILE), 'utf8').trim();
}

async function main(): Promise<number> {
  const { values, positionals } = parseArgs({ allowPositionals: true, options: { url: { type: 'string' } } });
  const [file] = positionals;
  if (file === undefined || positionals.length > 1) {
    process.stderr.write(USAGE);
    return 2;
  }
  const document: unknown = JSON.parse(readFileSync(file, 'utf8'));
  const read = readJob(document);
  if (!read.success) {
    for (const fault of faultsOf(read.error, document))
      process.stderr.write(`${fault.at}: found ${fault.found}. ${fault.todo}\n`);
    return 2;
  }
  const { host, port } = readConfig(process.env);
  const url = values.url ?? `http://${host}:${port}`;
  const { added, there, refused } = await loadJob(callerOf(url, keyFrom(process.env)), document as JobInput);
  process.stdout.write(`Added ${added}; ${there} were there already; ${refused.length} were refused.\n`);
  for (const { entry, why } of refused) process.stderr.write(`${entry}: ${why}\n`);
  return refused.length > 0 ? 1 : 0;
}

main().then(
  (code) => (process.exitCode = code),
  (error: unknown) => {
    const said = error instanceof Error ? error.message : 'The file could not be loaded.';
    process.stderr.write(
      said === 'fetch failed'
        ? 'No server answers there. Start one with npm start, or give its --url.\n'
        : `${said}\n`,
    );
    process.exitCode = 1;
  },
);
