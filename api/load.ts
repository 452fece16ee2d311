import { readFileSync } from 'node:fs';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { unreadable } from '../worker/command/files.ts';
import { ConfigError, readConfig } from '../worker/config.ts';
import type { ClubTerms, Job } from '../worker/engine/model/job.ts';
import { jobOfText } from '../worker/sheets/jobText.ts';
import { startFault } from '../worker/startFault.ts';
import { callerOf, Refused, Unreachable, type Caller } from './client.ts';
import { loadedText } from './load/loadedText.ts';
import { loadJob, type Way } from './load/loadJob.ts';
import { termsApart } from './load/terms.ts';
import { addressFrom, keyFrom, NoKey } from './reach.ts';

const USAGE = `Loads a job file's parts, suppliers, offers, fits, rates, lanes, stock and looms into your club, through a running server:

  npm run load -- FILE [--preview | --update] [--terms] [--url http://127.0.0.1:8080]

  FILE       a job file (see examples/)
  --preview  writes nothing; shows what would be added and what would be updated, field by field
  --update   replaces what is in the club by what is in the file; a loom gets a new revision
  --terms    also sets the club's currency, country, buyer and settings to those of the file
  --url      the address of the server
  --help     prints this

Without --update, what is already in the club stays as it is; what differs from the file is shown field by field. What is in the
club and not in the file always stays. The key is taken from LOOMWRIGHT_KEY, or else from admin-key in the data folder.

It ends with one of these exit codes:

  0  all of the file is in the club; or --preview has shown all changes
  1  something was refused, or differs and was not changed; the rest is in the club
  2  nothing was loaded: the file has faults, there is no key, or the flags cannot be used
`;

/** What the user can mend; its message says how. */
class NotLoadable extends Error {}

function readFile(file: string): Job {
  let text: string;
  try {
    text = readFileSync(file, 'utf8');
  } catch (error) {
    throw new NotLoadable(unreadable(file, error));
  }
  const read = jobOfText(file, text);
  if ('fix' in read) throw new NotLoadable(read.fix);
  return read.job;
}

/** Every Loomwright server has the path that is asked here, and answers it in JSON. */
async function clubTerms(api: Caller, url: string): Promise<{ terms: ClubTerms; tag: string }> {
  try {
    const answer = await api.get('/v1/club');
    return { terms: (await answer.json()) as ClubTerms, tag: answer.headers.get('etag') ?? '' };
  } catch (error) {
    if (error instanceof SyntaxError || (error instanceof Refused && error.status === 404))
      throw new Unreachable(`The server at ${url} is not a Loomwright server.`);
    throw error;
  }
}

/** The club's terms set to the file's. Returns why they were refused, where they were. */
async function setTerms(api: Caller, terms: ClubTerms, tag: string): Promise<string | undefined> {
  try {
    await api.send('PUT', '/v1/club', terms, { 'if-match': tag });
    return undefined;
  } catch (error) {
    if (error instanceof Refused && error.status !== 401) return error.message;
    throw error;
  }
}

async function main(): Promise<number> {
  const asked = readArguments(process.argv.slice(2), {
    usage: USAGE,
    names: 'a job file',
    options: {
      url: { type: 'string' },
      terms: { type: 'boolean' },
      update: { type: 'boolean' },
      preview: { type: 'boolean' },
    },
  });
  if (asked.help) {
    process.stdout.write(USAGE);
    return 0;
  }
  const { update = false, preview = false, terms: withTerms = false } = asked.values;
  if (update && preview)
    throw new WrongCall(
      `--preview writes nothing, but --update does. Use only one of them.\n\n${USAGE.trimEnd()}`,
    );
  const way: Way = preview ? 'preview' : update ? 'update' : 'add';
  const job = readFile(asked.named);
  const url = addressFrom(asked.values.url, readConfig(process.env));
  const api = callerOf(url, keyFrom(process.env, 'editor'));
  const { terms, tag } = await clubTerms(api, url);
  const apart = termsApart(job.club, terms);
  const setting = withTerms && apart.length > 0;
  const refusedTerms = setting && !preview ? await setTerms(api, job.club, tag) : undefined;
  if (refusedTerms !== undefined) process.stderr.write(`The club's terms were not set: ${refusedTerms}\n`);
  else if (setting)
    process.stdout.write(`The club's terms ${preview ? 'would be' : 'were'} set: ${apart.join('; ')}.\n`);
  else if (apart.length > 0)
    process.stderr.write(
      `The club's terms differ from those of the file, so quotes may differ too: ${apart.join('; ')}. To set the file's terms, add --terms.\n`,
    );
  const { currency } = setting && refusedTerms === undefined ? job.club : terms;
  const loaded = await loadJob(api, job, { way, currency });
  process.stdout.write(loadedText(loaded, way));
  const left = preview ? 0 : loaded.differing.length;
  return loaded.refused.length + left > 0 || refusedTerms !== undefined ? 1 : 0;
}

/** Why nothing was loaded, in a sentence that says what to do. */
function inWords(error: unknown): string {
  if (error instanceof Unreachable)
    return `${error.message} Start one with npm start, or give its address with --url.`;
  if (error instanceof Refused && error.status === 401)
    return `${error.message}\nThe key comes from LOOMWRIGHT_KEY, or else from admin-key in the data folder. Check that it is a key of this server.`;
  return startFault(error);
}

main().then(
  (code) => (process.exitCode = code),
  (error: unknown) => {
    process.stderr.write(`${inWords(error)}\n`);
    const asked = [WrongCall, NotLoadable, NoKey, ConfigError].some((kind) => error instanceof kind);
    process.exitCode = asked ? 2 : 1;
  },
);
