import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { ADMIN_KEY_FILE } from '../db/first.ts';
import { readConfig } from '../worker/config.ts';
import type { ClubTerms, Job } from '../worker/engine/model/job.ts';
import { jobOfText } from '../worker/sheets/jobText.ts';
import { callerOf, loadJob, termsApart, type Caller } from './client.ts';

const USAGE = `Loads a job file's parts, suppliers, offers, fits, rates, lanes, stock and looms into your club, through a running server:

  npm run load -- FILE [--url http://127.0.0.1:8080] [--terms]

  FILE     a job file (see examples/)
  --url    where the server answers
  --terms  also sets the club's currency, country and settings to those of the file
  --help   prints this

The key is taken from LOOMWRIGHT_KEY, else from the admin-key of the data folder. Entries that are there already stay as
they are; those that differ from the file are named.
`;

/** What the user can mend; its message says how. */
class NotLoadable extends Error {}

function keyFrom(env: Record<string, string | undefined>): string {
  if (env['LOOMWRIGHT_KEY']) return env['LOOMWRIGHT_KEY'];
  const { store } = readConfig(env);
  if (store.mode === 'service') throw new NotLoadable('Set LOOMWRIGHT_KEY to a key with the role editor.');
  const file = join(store.folder, ADMIN_KEY_FILE);
  if (!existsSync(file))
    throw new NotLoadable(
      `There is no key in ${file}. Start the server once with npm start; or, where the file was removed, stop the server, make a key with npm run key -- --club NAME --role editor, and set LOOMWRIGHT_KEY to it.`,
    );
  return readFileSync(file, 'utf8').trim();
}

function readFile(file: string): Job {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new NotLoadable(
      `${file} cannot be read: ${error instanceof Error ? error.message : 'no reason given'}`,
    );
  }
  const read = jobOfText(file, text);
  if ('mend' in read) throw new NotLoadable(read.mend);
  return read.job;
}

/** The club's terms beside the file's: set where asked, else told where they differ. */
async function terms(api: Caller, job: Job, set: boolean): Promise<void> {
  const club = await api.get('/v1/club');
  const apart = termsApart(job.club, (await club.json()) as ClubTerms);
  if (apart.length === 0) return;
  if (set) {
    await api.send('PUT', '/v1/club', job.club, { 'if-match': club.headers.get('etag') ?? '' });
    process.stdout.write(`The club's terms were set: ${apart.join('; ')}.\n`);
    return;
  }
  process.stderr.write(
    `The club's terms are not the file's, so quotes may come out otherwise: ${apart.join('; ')}. Add --terms to set them.\n`,
  );
}

async function main(): Promise<number> {
  const { values, positionals } = parseArgs({
    allowPositionals: true,
    options: { url: { type: 'string' }, terms: { type: 'boolean' }, help: { type: 'boolean' } },
  });
  const [file] = positionals;
  if (values.help === true) {
    process.stdout.write(USAGE);
    return 0;
  }
  if (file === undefined || positionals.length > 1) throw new NotLoadable(USAGE);
  const job = readFile(file);
  const { host, port } = readConfig(process.env);
  const api = callerOf(values.url ?? `http://${host}:${port}`, keyFrom(process.env));
  await terms(api, job, values.terms === true);
  const { added, same, differing, refused } = await loadJob(api, job);
  process.stdout.write(
    `Added ${added}; ${same} were there already; ${differing.length} are there but differ; ${refused.length} were refused.\n`,
  );
  for (const entry of differing)
    process.stderr.write(`${entry}: another of this name is there, and stays.\n`);
  for (const { entry, why } of refused) process.stderr.write(`${entry}: ${why}\n`);
  return refused.length + differing.length > 0 ? 1 : 0;
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
    const asked =
      error instanceof NotLoadable ||
      (error as { code?: string }).code?.startsWith('ERR_PARSE_ARGS') === true;
    process.exitCode = asked ? 2 : 1;
  },
);
