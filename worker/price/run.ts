import { parseArgs } from 'node:util';
import { priceJob } from '../engine/engine.ts';
import { documentText } from '../engine/model/canonical.ts';
import type { Control } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';
import type { Job } from '../engine/model/job.ts';
import { OfferNotUsable } from '../engine/model/notUsable.ts';
import type { Result } from '../engine/model/result.ts';
import { resolveSettings } from '../engine/model/settings.ts';
import { Stopped } from '../engine/model/stopped.ts';
import { winningPrice } from '../engine/quote/winningPrice.ts';
import { faultsText } from '../sheets/faults.ts';
import { jobOfText } from '../sheets/jobText.ts';
import { orderListText } from '../sheets/orderList.ts';
import { orderName } from '../sheets/orderSums.ts';
import { orderListHtml } from '../sheets/orderListHtml.ts';
import { orderListCsv } from '../sheets/orderListCsv.ts';
import { resultText } from '../sheets/resultText.ts';
import { winningPriceText } from '../sheets/winningPriceText.ts';

/** All that the command touches outside itself. */
export interface Surroundings {
  readFile(path: string): Promise<string>;
  /** Writes a file of a folder, making the folder where it is missing. */
  writeFile(folder: string, name: string, text: string): Promise<void>;
  print(text: string): void;
  warn(text: string): void;
  /** A passing line on how far the work is. */
  progress(text: string): void;
  /** Milliseconds that only ever grow. */
  now(): number;
}

/** 0: worked, whatever is unsourced. 1: a fault of ours. 2: what was asked or the file cannot be worked. */
export type ExitCode = 0 | 1 | 2;

const USAGE = `Works out a job file: what to buy where, at the least delivered price.

  npm run price -- FILE [--json] [--out DIR]
  npm run price -- FILE --wins-at OFFER [--json]

  FILE             a job file (see examples/)
  --json           prints the result as JSON instead of tables
  --out DIR        also writes result.json, quote.txt and each order list as a page to print, CSV and text into DIR
  --wins-at OFFER  prints instead at which price this one offer is bought
  --help           prints this
`;

/** The price command: job file in, tables and sheets out, no server. */
export async function runPrice(argv: readonly string[], around: Surroundings): Promise<ExitCode> {
  try {
    return await run(argv, around);
  } catch (error) {
    if (error instanceof NotWorkable) {
      around.warn(`${error.message}\n`);
      return 2;
    }
    around.warn(`Something went wrong inside: ${messageOf(error)}\n`);
    return 1;
  }
}

/** What the user can mend; its message says how. */
class NotWorkable extends Error {}

async function run(argv: readonly string[], around: Surroundings): Promise<ExitCode> {
  const asked = readArguments(argv);
  if (asked.help) {
    around.print(USAGE);
    return 0;
  }
  const job = await readJobFile(asked.file, around);
  const seconds = secondsOf(job);
  if (asked.winsAt !== undefined) {
    const answer = await winningPrice(job, asked.winsAt, controlOf(seconds.solver, around)).catch(
      (error: unknown) => {
        if (error instanceof Stopped) throw new NotWorkable(stoppedText(asked.file, error.findings));
        if (!(error instanceof OfferNotUsable)) throw error;
        throw new NotWorkable(faultsText(`No price can be told for offer ${asked.winsAt}`, error.findings));
      },
    );
    around.print(asked.json ? documentText(answer) : winningPriceText(answer));
    return 0;
  }
  const besideControl = () => controlOf(seconds.beside, around);
  const control = controlOf(seconds.solver, around);
  const result = await priceJob(job, control, besideControl).catch((error: unknown) => {
    if (!(error instanceof Stopped)) throw error;
    throw new NotWorkable(stoppedText(asked.file, error.findings));
  });
  if (asked.out !== undefined) await writeSheets(asked.out, result, around);
  around.print(asked.json ? documentText(result) : resultText(result));
  around.warn(warnings(result));
  return 0;
}

/** What keeps a quote from being made where the setting stopsBlock is on. */
function stoppedText(file: string, findings: readonly Finding[]): string {
  return (
    `${faultsText(`${file} is not quoted, since stopsBlock is on and the checks stop it`, findings)}\n\n` +
    'Mend these, accept a finding in the loom’s asOriginal, or turn stopsBlock off. Pointers are into the job as it is worked: sorted by code and id.'
  );
}

type Asked =
  | { help: true }
  | { help: false; file: string; json: boolean; out: string | undefined; winsAt: string | undefined };

function readArguments(argv: readonly string[]): Asked {
  const options = {
    json: { type: 'boolean' },
    out: { type: 'string' },
    'wins-at': { type: 'string' },
    help: { type: 'boolean' },
  } as const;
  let parsed;
  try {
    parsed = parseArgs({ args: [...argv], options, allowPositionals: true });
  } catch (error) {
    throw new NotWorkable(`${messageOf(error)}\n\n${USAGE}`);
  }
  const { values, positionals } = parsed;
  if (values.help === true) return { help: true };
  const [file, ...more] = positionals;
  if (file === undefined) throw new NotWorkable(`Name a job file.\n\n${USAGE}`);
  if (more.length > 0)
    throw new NotWorkable(`Name one job file; ${more.join(', ')} is too much.\n\n${USAGE}`);
  if (values.out === '') throw new NotWorkable(`--out takes the name of a folder.\n\n${USAGE}`);
  const { 'wins-at': winsAt, out } = values;
  if (winsAt === '') throw new NotWorkable(`--wins-at takes the code of an offer.\n\n${USAGE}`);
  if (winsAt !== undefined && out !== undefined)
    throw new NotWorkable(`--wins-at writes no files; leave out --out.\n\n${USAGE}`);
  return { help: false, file, json: values.json ?? false, out, winsAt };
}

async function readJobFile(file: string, around: Surroundings): Promise<Job> {
  let text: string;
  try {
    text = await around.readFile(file);
  } catch (error) {
    throw new NotWorkable(`${file} cannot be read: ${messageOf(error)}`);
  }
  const read = jobOfText(file, text);
  if ('mend' in read) throw new NotWorkable(read.mend);
  return read.job;
}

/** How long the cheapest mix is looked for, and then what lies beside it. */
function secondsOf(job: Job): { solver: number; beside: number } {
  const { solverSeconds, besideSeconds } = resolveSettings({
    club: job.club.settings,
    quote: job.request.settings,
  });
  return { solver: solverSeconds.value, beside: besideSeconds.value };
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

async function writeSheets(folder: string, result: Result, around: Surroundings): Promise<void> {
  const sheets: [name: string, text: string][] = [
    ['result.json', documentText(result)],
    ['quote.txt', resultText(result)],
    ...result.orderLists.flatMap((list): [string, string][] => [
      [`${orderName(list)}.csv`, orderListCsv(list)],
      [`${orderName(list)}.html`, orderListHtml({ list, asOf: result.asOf, cautions: result.cautions })],
      [`${orderName(list)}.txt`, `${orderListText(list)}\n`],
    ]),
  ];
  for (const [name, text] of sheets) {
    try {
      await around.writeFile(folder, name, text);
    } catch (error) {
      throw new NotWorkable(`${name} cannot be written to ${folder}: ${messageOf(error)}`);
    }
  }
  around.warn(`Written to ${folder}: ${sheets.map(([name]) => name).join(', ')}\n`);
}

/** What is not in the price, so that nobody takes it for the whole. */
function warnings({ unsourced, findings }: Result): string {
  return [
    ...unsourced.map(({ label, why }) => `Warning: not in this price: ${label}. ${why}\n`),
    ...findings
      .filter(({ severity }) => severity === 'stop')
      .map(({ where, found, todo }) => `Warning: ${where}: ${found}. ${todo}\n`),
  ].join('');
}

function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
