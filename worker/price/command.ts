import { WrongCall } from '../command/arguments.ts';
import { unreadable, unwritable } from '../command/files.ts';
import { Day } from '../engine/model/code.ts';
import { jobAsCsv, type NamedText } from './folder/asCsv.ts';
import { NotWorkable, type Folders } from './folder/files.ts';
import { readFolderJob } from './folder/folderJob.ts';
import { folderFaultsText, folderNotesText } from './folder/folderText.ts';
import { templates } from './folder/templates.ts';
import { readJobFile, runPrice, type ExitCode, type Surroundings } from './run.ts';
import { USAGE } from './usage.ts';

interface Asked {
  /** What stands without a flag. */
  named: string | undefined;
  preview: boolean;
  asOf: string | undefined;
  asCsv: string | undefined;
  template: string | undefined;
  /** All else, for the price of a job file. */
  others: string[];
}

/** The price command with its folders of tables: a folder is put together as a job file, which is priced as any other. */
export async function runCommand(
  argv: readonly string[],
  around: Surroundings,
  folders: Folders,
): Promise<ExitCode> {
  if (argv.includes('--help') || argv.includes('-h')) return runPrice(argv, around);
  try {
    return await run(askedIn(argv), argv, around, folders);
  } catch (error) {
    const { code, path } = error as NodeJS.ErrnoException;
    if (path !== undefined && ['EACCES', 'EPERM', 'EISDIR', 'ENOENT'].includes(code ?? '')) {
      around.warn(`${unreadable(path, error)}\n`);
      return 2;
    }
    if (!(error instanceof NotWorkable) && !(error instanceof WrongCall)) {
      around.warn(`Something went wrong inside: ${error instanceof Error ? error.message : String(error)}\n`);
      return 1;
    }
    around.warn(`${error.message}\n`);
    return 2;
  }
}

async function run(
  asked: Asked,
  argv: readonly string[],
  around: Surroundings,
  folders: Folders,
): Promise<ExitCode> {
  const { named, template, asCsv } = asked;
  if (template !== undefined) {
    if (named !== undefined || asked.others.length > 0)
      throw wrong(
        `--template takes the folder to write to and nothing else; leave out ${[...asked.others, ...(named === undefined ? [] : [named])].join(' ')}.`,
      );
    await writeAll(template, templates(), around, folders);
    return 0;
  }
  const names = named === undefined ? undefined : await folders.names(named);
  if (named === undefined || names === undefined) {
    if (asked.preview || asked.asOf !== undefined)
      throw wrong(
        `--preview and --as-of are for a folder; ${named === undefined ? 'name one' : `${named} is none`}.`,
      );
    if (asCsv === undefined || named === undefined)
      return runPrice(asCsv === undefined ? argv : asked.others, around);
    await writeAll(asCsv, await jobAsCsv(await readJobFile(named, around)), around, folders);
    return 0;
  }
  const read = await readFolderJob(named, names, folders, asked.asOf);
  const notes = folderNotesText(read.counts, read.notes);
  if (!read.job) throw new NotWorkable(folderFaultsText(named, read.faults));
  if (asCsv !== undefined) {
    await writeAll(asCsv, await jobAsCsv(read.job), around, folders);
    return 0;
  }
  if (asked.preview) {
    around.print(
      `${notes}\n\nNothing to fix in the tables. Wires, fuses and offers are checked when it is priced. Price it: npm run price -- ${named}\n`,
    );
    return 0;
  }
  around.warn(`${notes}\n\n`);
  const text = JSON.stringify(read.document);
  const withFolder = {
    ...around,
    readFile: async (path: string) => (path === named ? text : around.readFile(path)),
  };
  return runPrice([named, ...asked.others], withFolder, read.speech);
}

const WITH_VALUE = [
  '--out',
  '--sheets',
  '--paper',
  '--wins-at',
  '--hour-worth',
  '--as-of',
  '--as-csv',
  '--template',
];

function askedIn(argv: readonly string[]): Asked {
  const asked: Asked = {
    named: undefined,
    preview: false,
    asOf: undefined,
    asCsv: undefined,
    template: undefined,
    others: [],
  };
  for (let at = 0; at < argv.length; at++) {
    const [flag = '', ...inside] = (argv[at] ?? '').split('=');
    const value = () => {
      const given = inside.length > 0 ? inside.join('=') : argv[++at];
      if (given === undefined || given === '' || (inside.length === 0 && given.startsWith('-')))
        throw wrong(`${flag} needs a value after it.`);
      return given;
    };
    if (flag === '--preview') asked.preview = true;
    else if (flag === '--as-of') asked.asOf = dayOf(value());
    else if (flag === '--as-csv') asked.asCsv = value();
    else if (flag === '--template') asked.template = value();
    else if (flag.startsWith('-')) {
      asked.others.push(argv[at] ?? '');
      if (WITH_VALUE.includes(flag) && inside.length === 0 && argv[at + 1] !== undefined)
        asked.others.push(argv[++at] ?? '');
    } else if (asked.named === undefined) asked.named = argv[at];
    else asked.others.push(argv[at] ?? '');
  }
  return asked;
}

function dayOf(text: string): string {
  const day = Day.safeParse(text);
  if (day.success) return day.data;
  throw wrong(`--as-of takes a day as year-month-day, such as 2026-11-02; ${text} is none.`);
}

const wrong = (why: string) => new WrongCall(`${why}\n\n${USAGE.trimEnd()}`);

/** Writes files to a folder that has none of their names, so that nobody's tables are lost. */
async function writeAll(
  folder: string,
  texts: readonly NamedText[],
  around: Surroundings,
  folders: Folders,
): Promise<void> {
  const there = (await folders.names(folder)) ?? [];
  const lost = texts.map(([name]) => name).filter((name) => there.includes(name));
  if (lost.length > 0)
    throw new NotWorkable(
      `${folder} has ${lost.join(', ')} already, and nothing is written over. Name another folder.`,
    );
  for (const [name, text] of texts) {
    try {
      await around.writeFile(folder, name, text);
    } catch (error) {
      throw new NotWorkable(unwritable(name, folder, error));
    }
  }
  around.warn(`Written to ${folder}: ${texts.map(([name]) => name).join(', ')}\n`);
}
