import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { ENTRY_SCHEMAS, ENTRY_TYPES, type Entry, type EntryType } from '../../db/archive/entries.ts';
import { orderKeeper } from '../../db/archive/order.ts';
import type { Placed } from '../../db/archive/report.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { readJson } from '../../worker/engine/model/readJson.ts';
import { readJob, readResult } from '../../worker/engine/model/upgrade.ts';
import { readWinningPrice } from '../../worker/engine/model/winningPrice.ts';
import { breather } from '../http/breather.ts';
import { HttpProblem } from '../http/problem.ts';
import { ARCHIVE_FORMAT, ARCHIVE_VERSION, Header, noneYet, Trailer, type Counts } from './frame.ts';
import type { ArchiveLimits } from './limits.ts';
import { cutOff, linesOf, type Line } from './lines.ts';

/** No document of ours is nested deeper. */
const DEEPEST = 60;
/** Values of a line: a quote has its job and its result. */
const MOST_VALUES = 20_000_000;
/** Faults of a line that are told. */
const MOST_FINDINGS = 20;

/**
 * The entries of an archive, each checked by the schema that the API checks it with, as they are read; at the end, that none
 * is missing. Problems: 400 for what is no archive, is not whole or is not JSON; 413 beyond the limits; 422 with the faults
 * of the first line that cannot be used, its number in each.
 */
export async function* entriesOf(file: string, limits: ArchiveLimits): AsyncGenerator<Placed> {
  const wrong = orderKeeper();
  for await (const { line, value } of bodyOf(file, limits)) {
    const entry = checkedEntry(value, line);
    const fault = wrong(entry);
    if (fault !== undefined) throw notValid(line, [misplaced(line, fault)]);
    yield { line: line.number, entry };
  }
  const missing = wrong(undefined);
  if (missing !== undefined)
    throw new HttpProblem('malformed-request', `The archive is incomplete. ${missing}`);
}

/** What an archive says of itself, once all of it was read and is whole; what the entries hold is not looked at. Problems: as above. */
export async function summaryOf(
  file: string,
  limits: ArchiveLimits,
): Promise<{ header: Header; counts: Counts }> {
  const counts = noneYet();
  let header: Header | undefined;
  for await (const { value } of bodyOf(file, limits, (read) => (header = read)))
    if (isType(value['type'])) counts[value['type']]++;
  if (!header) throw noArchive();
  return { header, counts };
}

type Fields = Record<string, unknown>;

/** The lines between the first and the last one. */
async function* bodyOf(
  file: string,
  limits: ArchiveLimits,
  onHeader: (header: Header) => void = () => undefined,
): AsyncGenerator<{ line: Line; value: Fields }> {
  const hash = createHash('sha256');
  const counts = noneYet();
  let last = 0;
  let ended = false;
  const pause = breather();
  for await (const line of linesOf(file, limits)) {
    await pause();
    if (ended)
      throw new HttpProblem(
        'malformed-request',
        `The archive has ended, but line ${line.number} follows. Take it again from where it came.`,
      );
    last = line.number;
    if (last === 1) {
      onHeader(headerIn(line));
      continue;
    }
    const value = valueIn(line);
    if (value['type'] === 'end') {
      requireWhole(line, value, counts, hash.digest('hex'));
      ended = true;
      continue;
    }
    if (isType(value['type'])) counts[value['type']]++;
    hash.update(line.text).update('\n');
    yield { line, value };
  }
  if (last === 0) throw noArchive();
  if (!ended) throw cutOff(last);
}

function isType(type: unknown): type is EntryType {
  return typeof type === 'string' && (ENTRY_TYPES as string[]).includes(type);
}

function headerIn(line: Line): Header {
  let value: unknown;
  try {
    value = JSON.parse(line.text.slice(0, 2000));
  } catch {
    throw noArchive();
  }
  const { format, version } = (value ?? {}) as Fields;
  if (format !== ARCHIVE_FORMAT) throw noArchive();
  if (version !== ARCHIVE_VERSION)
    throw new HttpProblem(
      'malformed-request',
      `This archive is of version ${JSON.stringify(version)?.slice(0, 20)}, and this server reads version ${ARCHIVE_VERSION}. Use the Loomwright that wrote it, or a newer one.`,
    );
  return checkedBy(Header, value, line);
}

function noArchive(): HttpProblem {
  return new HttpProblem(
    'malformed-request',
    `This file is not an archive of a club. Its first line is not {"format":"${ARCHIVE_FORMAT}", …}.`,
  );
}

function valueIn(line: Line): Fields {
  const { number, text } = line;
  // What was stored before hidden characters were refused comes back as it was.
  const read = readJson(text, { depth: DEEPEST, values: MOST_VALUES }, { hidden: 'kept' });
  if ('findings' in read) {
    if (read.findings.some(({ code }) => code === 'too-deep'))
      throw new HttpProblem('malformed-request', `Line ${number} is nested too deep.`);
    throw notValid(line, read.findings);
  }
  if ('tooMany' in read)
    throw new HttpProblem('too-large', `Line ${number} has more than ${MOST_VALUES} values.`);
  if ('empty' in read) throw new HttpProblem('malformed-request', `Line ${number} is empty.`);
  if ('notJson' in read)
    throw new HttpProblem(
      'malformed-request',
      `Line ${number} is not JSON: column ${read.notJson.column}, found ${read.notJson.found}.`,
    );
  const { value } = read;
  if (typeof value !== 'object' || value === null || Array.isArray(value))
    throw new HttpProblem('malformed-request', `Line ${number} is not an object {…}.`);
  return value as Fields;
}

function requireWhole(line: Line, value: Fields, counts: Counts, sha256: string): void {
  const trailer = checkedBy(Trailer, value, line);
  for (const type of ENTRY_TYPES)
    if (trailer.counts[type] !== counts[type])
      throw new HttpProblem(
        'malformed-request',
        `The archive is incomplete. Its last line, ${line.number}, counts ${trailer.counts[type]} of type ${type}, and ${counts[type]} are there.`,
      );
  if (trailer.sha256 !== sha256)
    throw new HttpProblem(
      'malformed-request',
      `The archive was changed after it was written: the SHA-256 in its last line, ${line.number}, is of other lines.`,
    );
}

function checkedEntry(value: Fields, line: Line): Entry {
  const type = value['type'];
  if (!isType(type))
    throw notValid(line, [
      {
        code: 'not-one-of',
        severity: 'stop',
        at: '/type',
        where: 'type',
        found: JSON.stringify(type)?.slice(0, 80) ?? 'nothing',
        todo: `Give one of: ${ENTRY_TYPES.join(', ')}.`,
      },
    ]);
  const entry = checkedBy(ENTRY_SCHEMAS[type] as z.ZodType<Entry>, value, line);
  if (entry.type === 'quote') {
    if (entry.job) readBy(line, 'job', () => readJob(entry.job).success);
    if (entry.result) readBy(line, 'result', () => readResult(entry.result));
  }
  if (entry.type === 'winningPrice' && entry.answer)
    readBy(line, 'answer', () => readWinningPrice(entry.answer));
  return entry;
}

/** Has a stored document read as the API reads it. */
function readBy(line: Line, field: string, read: () => unknown): void {
  let sound: boolean;
  try {
    sound = read() !== false;
  } catch {
    sound = false;
  }
  if (sound) return;
  throw notValid(line, [
    {
      code: 'not-readable',
      severity: 'stop',
      at: `/${field}`,
      where: field,
      found: `no ${field} of this version or an older one`,
      todo: 'Take the archive again from where it came.',
    },
  ]);
}

function checkedBy<S extends z.ZodType>(schema: S, value: unknown, line: Line): z.output<S> {
  const read = parsed(schema, value);
  if (!read.success) throw notValid(line, faultsOf(read.error, value, schema));
  return read.data;
}

function notValid({ number }: Line, findings: Finding[]): HttpProblem {
  const told = findings.slice(0, MOST_FINDINGS).map((finding) => ({
    ...finding,
    where: finding.where.startsWith('line ') ? finding.where : `line ${number}, ${finding.where}`,
  }));
  return new HttpProblem('not-valid', `Line ${number} of the archive cannot be used. Nothing was written.`, {
    findings: told,
  });
}

function misplaced({ number }: Line, todo: string): Finding {
  return {
    code: 'not-in-order',
    severity: 'stop',
    at: '',
    where: `line ${number}`,
    found: 'an entry that does not belong here',
    todo: todo.charAt(0).toUpperCase() + todo.slice(1),
  };
}
