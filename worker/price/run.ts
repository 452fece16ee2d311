import { readArguments, WrongCall } from '../command/arguments.ts';
import { unreadable } from '../command/files.ts';
import { priceJob } from '../engine/engine.ts';
import { documentText } from '../engine/model/canonical.ts';
import type { Control } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { Job } from '../engine/model/job.ts';
import { OfferNotUsable } from '../engine/model/notUsable.ts';
import type { Result } from '../engine/model/result.ts';
import { resolveSettings } from '../engine/model/settings.ts';
import { Stopped } from '../engine/model/stopped.ts';
import { winningPrice } from '../engine/winning/winningPrice.ts';
import { counted } from '../sheets/amounts.ts';
import { timeFindings } from '../engine/model/timeFindings.ts';
import { faultsText } from '../sheets/faults.ts';
import { jobOfText } from '../sheets/jobText.ts';
import { fullText, quoteText } from '../sheets/quoteText.ts';
import { findingsText, shortFinding, stopsOf, unsourcedIn } from '../sheets/remarks.ts';
import { PAPERS } from '../sheets/paper.ts';
import { sheetText } from '../sheets/print.ts';
import { SHEET_NAMES } from '../sheets/sheet.ts';
import { sheetOf } from '../sheets/sheets.ts';
import { winningPriceText } from '../sheets/winningPriceText.ts';
import { withBuildOrBuy, type BuildOrBuyFlags } from './buildOrBuyFlags.ts';
import { NotWorkable } from './folder/files.ts';
import { AS_GIVEN, type Speech } from './folder/speech.ts';
import { USAGE } from './usage.ts';
import { writeSheets, type SheetsAsked } from './writeSheets.ts';

/** All that the command touches outside itself. */
export interface Surroundings {
  readFile(path: string): Promise<string>;
  /** Writes a file of a folder, making the folder where it is missing. */
  writeFile(folder: string, name: string, content: string | Uint8Array): Promise<void>;
  /** The names of the files in a folder. */
  filesIn?(folder: string): Promise<string[]>;
  print(text: string): void;
  warn(text: string): void;
  /** What is printed and what is warned of are read in one place, a terminal. */
  oneTerminal?: boolean;
  /** A passing line on how far the work is. */
  progress(text: string): void;
  /** Milliseconds that only ever grow. */
  now(): number;
}

/**
 * 0: priced, whatever is not sourced. 1: a fault of ours. 2: the call or the file cannot be worked. 3: priced, and something
 * must be fixed that no loom accepts as original.
 */
export type ExitCode = 0 | 1 | 2 | 3;

/** What stands at the end of a quote without its appendix. */
const REST =
  'Sums, settings, all that was found, other ways to buy and the proof: run this again with --full, or with --out DIR to have all as files.';

/** The price command: job file in, tables and sheets out, no server. JSON is in the words of a job file, whatever the speech. */
export async function runPrice(
  argv: readonly string[],
  around: Surroundings,
  speech: Speech = AS_GIVEN,
): Promise<ExitCode> {
  try {
    return await run(argv, around, speech);
  } catch (error) {
    if (error instanceof NotWorkable || error instanceof WrongCall) {
      around.warn(`${error.message}\n`);
      return 2;
    }
    around.warn(`Something went wrong inside: ${messageOf(error)}\n`);
    return 1;
  }
}

async function run(argv: readonly string[], around: Surroundings, speech: Speech): Promise<ExitCode> {
  const asked = readAsked(argv);
  if (asked.help) {
    around.print(USAGE);
    return 0;
  }
  const job = withBuildOrBuy(await readJobFile(asked.file, around), asked.buildOrBuy);
  const tooLong = timeFindings(job.club.settings, job.request.settings, 'request');
  if (tooLong.length > 0)
    throw new NotWorkable(faultsText(`${asked.file} asks for too much time`, speech.findings(tooLong)));
  const seconds = secondsOf(job);
  if (asked.winsAt !== undefined) {
    const answer = await winningPrice(job, asked.winsAt, controlOf(seconds.solver, around)).catch(
      (error: unknown) => {
        if (error instanceof Stopped) throw new NotWorkable(stoppedText(asked.file, error.findings, speech));
        if (!(error instanceof OfferNotUsable)) throw error;
        throw new NotWorkable(
          faultsText(`No price can be told for offer ${asked.winsAt}`, speech.findings(error.findings)),
        );
      },
    );
    around.print(asked.json ? documentText(answer) : winningPriceText(answer));
    return 0;
  }
  const control = controlOf(seconds.solver, around);
  const worked = await priceJob(job, control, {
    beside: () => controlOf(seconds.beside, around),
    buildOrBuy: () => controlOf(seconds.buildOrBuy, around),
    quote: () => controlOf(seconds.solver, around),
  }).catch((error: unknown) => {
    if (!(error instanceof Stopped)) throw error;
    throw new NotWorkable(stoppedText(asked.file, error.findings, speech));
  });
  const result = speech.result(worked);
  // First, so that the work is not lost where a file cannot be written.
  const printed = printedForm({ worked, result }, asked);
  around.print(printed);
  if (asked.out !== undefined) await writeSheets(asked.out, { worked, result }, asked, around);
  const page = around.oneTerminal === true && !asked.json ? printed : undefined;
  const told = warnings(result, speech, page);
  around.warn(around.oneTerminal === true && told !== '' ? `\n${told}` : told);
  return stopsOf(result.findings).length > 0 ? 3 : 0;
}

function printedForm(
  { worked, result }: { worked: Result; result: Result },
  { json, full, sheets, out }: { json: boolean; full: boolean; out: string | undefined } & SheetsAsked,
): string {
  if (json) return documentText(worked);
  if (sheets && out === undefined)
    return sheets.map((name) => [...sheetText(result, sheetOf(result, name))].join('')).join('\n\n');
  return full ? fullText(result) : quoteText(result, REST);
}

/** What keeps a quote from being made where the setting stopsBlock is on. */
function stoppedText(file: string, findings: readonly Finding[], speech: Speech): string {
  const [first, last] = [
    `the setting stopsBlock is on, and ${counted(findings.length, 'fault')} must be fixed first.`,
    `${ACCEPTED} Or turn stopsBlock off: then the quote is made, and --json shows the code and the subject of each fault.`,
  ].map((words) => speech.sentence(words));
  return [`${file} is not priced: ${first ?? ''}`, findingsText(speech.findings(findings)), last].join(
    '\n\n',
  );
}

type Asked =
  | { help: true }
  | ({
      help: false;
      file: string;
      json: boolean;
      full: boolean;
      out: string | undefined;
      winsAt: string | undefined;
      buildOrBuy: BuildOrBuyFlags;
    } & SheetsAsked);

function readAsked(argv: readonly string[]): Asked {
  const asked = readArguments(argv, {
    usage: USAGE,
    names: 'a job file or folder',
    options: {
      json: { type: 'boolean' },
      full: { type: 'boolean' },
      out: { type: 'string' },
      'wins-at': { type: 'string' },
      'build-or-buy': { type: 'boolean' },
      'hour-worth': { type: 'string' },
      sheets: { type: 'string' },
      paper: { type: 'string' },
    },
  });
  if (asked.help) return asked;
  const { json = false, full = false, out, 'wins-at': winsAt } = asked.values;
  const { 'build-or-buy': isAsked = false, 'hour-worth': hourWorth } = asked.values;
  if (winsAt !== undefined && (isAsked || hourWorth !== undefined))
    throw new WrongCall(
      `--wins-at compares no looms; leave out ${isAsked ? '--build-or-buy' : '--hour-worth'}.\n\n${USAGE.trimEnd()}`,
    );
  if (winsAt !== undefined && out !== undefined)
    throw new WrongCall(`--wins-at writes no files; leave out --out.\n\n${USAGE.trimEnd()}`);
  if (full && (json || winsAt !== undefined))
    throw new WrongCall(
      `--full prints the quote; leave out ${json ? '--json' : '--wins-at'}.\n\n${USAGE.trimEnd()}`,
    );
  const buildOrBuy = { isAsked, hourWorth };
  return {
    help: false,
    file: asked.named,
    json,
    full,
    out,
    winsAt,
    buildOrBuy,
    ...sheetsAsked(asked.values),
  };
}

/** Throws WrongCall for a sheet or a paper that there is none of, and where these go with nothing. */
function sheetsAsked(values: {
  sheets?: string;
  paper?: string;
  out?: string;
  json?: boolean;
  full?: boolean;
  'wins-at'?: string;
}): SheetsAsked {
  const wrong = (why: string) => new WrongCall(`${why}\n\n${USAGE.trimEnd()}`);
  const { out, json = false, full = false, 'wins-at': winsAt } = values;
  const sheets = values.sheets?.split(',').map((given) => {
    const name = SHEET_NAMES.find((each) => each === given.trim());
    if (name) return name;
    throw wrong(`There is no sheet ${given.trim()}. The sheets are ${SHEET_NAMES.join(', ')}.`);
  });
  const paper = PAPERS.find((each) => each === values.paper);
  if (values.paper !== undefined && !paper)
    throw wrong(`There is no paper ${values.paper}. The papers are ${PAPERS.join(' and ')}.`);
  if (paper && out === undefined) throw wrong('--paper is for files; name their folder with --out.');
  if (sheets && winsAt !== undefined) throw wrong('--wins-at prints no sheets; leave out --sheets.');
  if (sheets && out === undefined && (json || full))
    throw wrong(
      `--sheets prints sheets instead of the quote; leave out ${json ? '--json' : '--full'}, or name a folder with --out.`,
    );
  return { sheets: sheets && SHEET_NAMES.filter((name) => sheets.includes(name)), paper };
}

/** The job of a file. Throws NotWorkable where it cannot be read, or has faults. */
export async function readJobFile(file: string, around: Pick<Surroundings, 'readFile'>): Promise<Job> {
  let text: string;
  try {
    text = await around.readFile(file);
  } catch (error) {
    throw new NotWorkable(unreadable(file, error));
  }
  const read = jobOfText(file, text);
  if ('fix' in read) throw new NotWorkable(read.fix);
  return read.job;
}

/** How long the cheapest mix is looked for, then close alternatives, and how long building is compared with buying made. */
function secondsOf(job: Job): { solver: number; beside: number; buildOrBuy: number } {
  const { solverSeconds, besideSeconds, buildOrBuySeconds } = resolveSettings({
    club: job.club.settings,
    quote: job.request.settings,
  });
  return {
    solver: solverSeconds.value,
    beside: besideSeconds.value,
    buildOrBuy: buildOrBuySeconds.value,
  };
}

/** So many seconds from now on. */
function controlOf(seconds: number, around: Surroundings): Control {
  const until = around.now() + seconds * 1000;
  return {
    remainingMs: () => Math.max(0, until - around.now()),
    cancelled: () => false,
    report: ({ message }) => around.progress(message),
  };
}

const ACCEPTED =
  'If one of these is right as the vehicle was made, accept it in the loom’s asOriginal, by its code and subject.';

/**
 * What must be fixed and what is not in the price, in full, in the words of the quote; without what a page that is read beside
 * it has whole.
 */
function warnings({ findings }: Result, speech: Speech, page = ''): string {
  const has = (words: string) => flat(page).includes(flat(words));
  const found = stopsOf(findings);
  const stops = findingsText(found.filter((stop) => !has(shortFinding(stop, Infinity))));
  const missing = findingsText(
    unsourcedIn(findings).filter(({ where, found: why }) => !has(where) || !has(why)),
  );
  return [
    ...(stops === '' ? [] : [`Fix these first:\n\n${stops}\n`]),
    ...(found.length === 0 ? [] : [`${speech.sentence(ACCEPTED)} --json shows both.\n`]),
    ...(missing === '' ? [] : [`Not sourced, so not in this price:\n\n${missing}\n`]),
  ].join('\n');
}

/** Words whatever the lines in which they stand. */
const flat = (words: string) => words.replaceAll(/\s+/g, ' ');

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
