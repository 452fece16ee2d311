import { createReadStream, readdirSync, readFileSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { unreadable } from '../worker/command/files.ts';
import { ConfigError, readConfig } from '../worker/config.ts';
import type { ClubTerms, Job } from '../worker/engine/model/job.ts';
import { ABOUT } from '../worker/price/folder/about.ts';
import { readFolderJob } from '../worker/price/folder/folderJob.ts';
import { folderFaultsText, folderNotesText } from '../worker/price/folder/folderText.ts';
import { readAbout, usualOf } from '../worker/price/folder/readFolder.ts';
import { starterCatalogue } from '../worker/price/folder/starter.ts';
import { jobOfText } from '../worker/sheets/jobText.ts';
import { readTable } from '../worker/tables/readTable.ts';
import { fileOf, TABLE_NAMES, tableOf, type TableName } from '../worker/tables/tables.ts';
import { startFault } from '../worker/startFault.ts';
import { callerOf, Refused, Unreachable, type Caller } from './client.ts';
import { loadedText } from './load/loadedText.ts';
import { loadedTablesText } from './load/loadedTablesText.ts';
import { loadJob, type Way } from './load/loadJob.ts';
import { loadTables, TABLE_ORDER, type LoadedTable, type TableFile } from './load/loadTables.ts';
import { termsApart } from './load/terms.ts';
import { addressFrom, keyFrom, NoKey } from './reach.ts';

const USAGE = `Loads a job file's parts, suppliers, offers, fits, rates, lanes, stock and looms into your club, through a running server:

  npm run load -- FILE [--preview | --update] [--terms] [--url http://127.0.0.1:8080]

  FILE       a job file (see examples/); a table, as offers.csv; or a folder of tables (see docs/spreadsheets.md)
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

/** What a name stands for: a job, or tables that are sent as they are. */
type Source = { job: () => Promise<Job> } | { tables: () => Promise<TableSource> };

/** A folder with tables of looms is one job; tables without a loom are sent as they are. */
function sourceOf(named: string): Source {
  const folder = statSync(named, { throwIfNoEntry: false })?.isDirectory() ?? false;
  if (!folder && !named.toLowerCase().endsWith('.csv')) {
    // Read first, so that a fault of the file is told before one of the key.
    const job = readFile(named);
    return { job: () => Promise.resolve(job) };
  }
  const names = folder ? filesIn(named) : [basename(named)];
  const isOfLoom = (name: TableName) => tableOf(name).ofLooms && names.includes(fileOf(name));
  if (folder && TABLE_NAMES.some(isOfLoom)) return { job: () => readFolder(named, names) };
  const within = folder ? named : dirname(named);
  const tables = TABLE_ORDER.filter((name) => names.includes(fileOf(name))).map((name) => ({
    name,
    path: join(within, fileOf(name)),
  }));
  if (tables.length === 0)
    throw new NotLoadable(
      `There is no table in ${named} that can be loaded by itself: ${TABLE_ORDER.map(fileOf).join(', ')}.`,
    );
  return {
    tables: async () => ({
      tables,
      own: await codesIn(tables),
      query: names.includes(ABOUT) ? await queryIn(join(within, ABOUT)) : {},
    }),
  };
}

const filesIn = (folder: string) =>
  readdirSync(folder, { withFileTypes: true }).flatMap((entry) => (entry.isFile() ? [entry.name] : []));

async function readFolder(folder: string, names: readonly string[]): Promise<Job> {
  const read = await readFolderJob(folder, names, {
    names: async () => names,
    open: (within, name) => createReadStream(join(within, name)),
    starter: () => starterCatalogue(join(process.cwd(), 'examples', 'starter')),
    today: () => new Date().toISOString().slice(0, 10),
  });
  if (!read.job) throw new NotLoadable(folderFaultsText(folder, read.faults));
  process.stderr.write(`${folderNotesText(read.counts, read.notes)}\n\n`);
  return read.job;
}

interface TableSource {
  tables: TableFile[];
  own: ReadonlySet<string>;
  query: Record<string, string>;
}

/** What about.csv says of how tables are read, and of all offers. Throws NotLoadable with its faults. */
async function queryIn(file: string): Promise<Record<string, string>> {
  const about = await readAbout(createReadStream(file));
  if (about.faults.length > 0)
    throw new NotLoadable(
      folderFaultsText(
        ABOUT,
        about.faults.map(({ finding }) => finding),
      ),
    );
  const offers = Object.entries(usualOf(about)).map(([name, value]) => [name, String(value)]);
  return {
    ...(Object.fromEntries(offers) as Record<string, string>),
    ...(about.said['decimalComma'] === true ? { decimalComma: 'true' } : {}),
  };
}

/** The codes that tables of parts and suppliers bring, as faults show them. */
async function codesIn(tables: readonly TableFile[]): Promise<ReadonlySet<string>> {
  const codes = new Set<string>();
  for (const { name, path } of tables) {
    if (name !== 'parts' && name !== 'suppliers') continue;
    let at = -1;
    for await (const event of readTable(tableOf(name), createReadStream(path)))
      if ('layout' in event) at = event.layout.columns.findIndex((column) => column?.name === 'code');
      else if ('cells' in event) codes.add(JSON.stringify(event.cells[at]));
  }
  return codes;
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
    names: 'a job file, a table or a folder of tables',
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
  const source = sourceOf(asked.named);
  const url = addressFrom(asked.values.url, readConfig(process.env));
  const api = callerOf(url, keyFrom(process.env, 'editor'));
  const { terms, tag } = await clubTerms(api, url);
  if ('tables' in source) {
    if (withTerms) throw new WrongCall('--terms is for a job file or a folder with a loom.');
    const { tables, query, own } = await source.tables();
    const loaded = await loadTables(api, tables, { way, query, own });
    process.stdout.write(loadedTablesText(loaded, way));
    const right = ({ told }: LoadedTable) =>
      told !== undefined && told.complete && told.faults === 0 && (way !== 'add' || told.changed === 0);
    return loaded.every(right) ? 0 : 1;
  }
  const job = await source.job();
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
