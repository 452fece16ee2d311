import { existsSync } from 'node:fs';
import { readArguments, WrongCall } from '../worker/command/arguments.ts';
import { ConfigError, readConfig } from '../worker/config.ts';
import { startFault } from '../worker/startFault.ts';
import { archiveLimits } from './archive/limits.ts';
import { importText, summaryText } from './archive/archiveText.ts';
import { NotDone, openStore, type Store } from './archive/store.ts';
import { Refused, Unreachable } from './client.ts';
import { StoreError } from '../db/errors.ts';
import { HttpProblem, problemOf } from './http/problem.ts';
import { NoKey } from './reach.ts';

const USAGE = `Exports all that a club has to one file, or brings a club what such a file has:

  npm run archive -- export FILE [--club NAME] [--url http://127.0.0.1:8080] [--overwrite]
  npm run archive -- import FILE [--club NAME] [--url http://127.0.0.1:8080] [--preview]

  FILE         the archive, such as club.jsonl.gz; export refuses a name that a file has already
  --overwrite  export writes over a file of that name, once the new archive is whole
  --preview    writes nothing, and tells what would come of the import
  --club NAME  the club, by its whole name; needed only where there are several and no server runs
  --url        where the server answers
  --help       prints this

It goes through the server where one runs: export is a backup while people work. The key is taken from LOOMWRIGHT_KEY, else
from the admin-key of the data folder, and has the role admin. Where no server runs, it works in the data folder, or with
DATABASE_URL in the database. Keys are not in an archive. docs/archive.md tells what is, and the way from a data folder into
the service.

It ends with one of these exit codes:

  0  done; or --preview has told that it can be done
  1  refused or failed: something in the club differs, the file is damaged, the server refuses. The club is as it was
  2  nothing was tried: there is no such file, or there is one already; no key; no such club; or the command cannot be
     called so
`;

type Way = 'export' | 'import';

interface Wish {
  way: Way;
  file: string;
  club: string | undefined;
  url: string | undefined;
  preview: boolean;
  /** An export may write over a file of that name. */
  overwrite: boolean;
}

/** What was asked for. Throws WrongCall with the usage where it is not clear. */
function readWish(argv: readonly string[]): Wish | undefined {
  const [way, ...rest] = argv;
  const asked = readArguments(way === 'export' || way === 'import' ? rest : argv, {
    usage: USAGE,
    names: 'an archive',
    options: {
      club: { type: 'string' },
      url: { type: 'string' },
      preview: { type: 'boolean' },
      overwrite: { type: 'boolean' },
    },
  });
  if (asked.help) return undefined;
  const wrong = (why: string) => new WrongCall(`${why}\n\n${USAGE.trimEnd()}`);
  if (way !== 'export' && way !== 'import') throw wrong('Say which way: export or import.');
  const { club, url, preview = false, overwrite = false } = asked.values;
  if (way === 'export' && preview) throw wrong('--preview is for import: an export changes nothing.');
  if (way === 'import' && overwrite) throw wrong('--overwrite is for export: an import writes no file.');
  return { way, file: asked.named, club: club?.trim(), url, preview, overwrite };
}

async function main(): Promise<number> {
  const wish = readWish(process.argv.slice(2));
  if (!wish) {
    process.stdout.write(USAGE);
    return 0;
  }
  const { way, file, preview, overwrite } = wish;
  const there = existsSync(file);
  if (way === 'import' && !there) throw new NotDone(`There is no file ${file}.`);
  if (way === 'export' && there && !overwrite)
    throw new NotDone(
      `${file} exists already, and it was not written over: it can be your only backup. Give another name, or add --overwrite to replace it.`,
    );
  const config = readConfig(process.env);
  const store = await openStore(config, wish);
  try {
    return way === 'export'
      ? await exportTo(store, file, archiveLimits(config))
      : await importFrom(store, file, preview);
  } finally {
    await store.close();
  }
}

async function exportTo(
  store: Store,
  file: string,
  limits: ReturnType<typeof archiveLimits>,
): Promise<number> {
  const summary = await store.exportTo(file, limits);
  process.stdout.write(summaryText(file, store.where, summary));
  return 0;
}

async function importFrom(store: Store, file: string, preview: boolean): Promise<number> {
  const came = await store.importFrom(file, preview);
  process.stdout.write(importText(came, { preview, club: store.club, where: store.where }));
  return came.types.some(({ differs }) => differs > 0) ? 1 : 0;
}

/** Why it was not done, in sentences that say what to do. */
function inWords(error: unknown): string {
  // What comes of opening the database is told as at any start.
  const isOfStore = error instanceof StoreError || error instanceof HttpProblem;
  const problem = isOfStore ? problemOf(error, { method: 'PUT', once: false, stage: 'storing' }) : undefined;
  if (problem)
    return [
      problem.message,
      ...(problem.findings ?? []).map(({ where, found, todo }) => `${where}: found ${found}. ${todo}`),
    ].join('\n');
  if (error instanceof Unreachable)
    return `${error.message} Start one with npm start, or leave --url out to work in the data folder or the database.`;
  if (error instanceof Refused && error.status === 401)
    return `${error.message}\nThe key comes from LOOMWRIGHT_KEY, else from the admin-key of the data folder: is it of another server?`;
  return startFault(error);
}

main().then(
  (code) => (process.exitCode = code),
  (error: unknown) => {
    process.stderr.write(`${inWords(error)}\n`);
    const asked = [WrongCall, NotDone, NoKey, ConfigError].some((kind) => error instanceof kind);
    process.exitCode = asked ? 2 : 1;
  },
);
