import { createReadStream } from 'node:fs';
import { createGunzip } from 'node:zlib';
import { HttpProblem } from '../http/problem.ts';
import type { ArchiveLimits } from './limits.ts';

export interface Line {
  /** From 1. */
  number: number;
  text: string;
}

const LINE_END = 0x0a;

/**
 * The lines of a packed file, one in memory at a time. Problems: 400 where it is not gzip, ends in the middle, or is not UTF-8
 * text; 413 for a line, or lines, beyond the limits.
 */
export async function* linesOf(
  file: string,
  limits: Pick<ArchiveLimits, 'unpackedBytes' | 'lineBytes'>,
): AsyncGenerator<Line> {
  const source = createReadStream(file);
  const unpacked = source.pipe(createGunzip());
  source.once('error', (error) => unpacked.destroy(error));
  let number = 1;
  let size = 0;
  let open: Buffer[] = [];
  let length = 0;
  const add = (piece: Buffer) => {
    length += piece.length;
    if (length > limits.lineBytes) throw lineTooLong(number, limits.lineBytes);
    open.push(piece);
  };
  const taken = (): Line => {
    const line = { number, text: textOf(Buffer.concat(open), number) };
    [open, length, number] = [[], 0, number + 1];
    return line;
  };
  try {
    for await (const chunk of unpacked as AsyncIterable<Buffer>) {
      size += chunk.length;
      if (size > limits.unpackedBytes) throw unpacksToTooMuch(limits.unpackedBytes);
      let start = 0;
      for (let end = chunk.indexOf(LINE_END); end >= 0; end = chunk.indexOf(LINE_END, start)) {
        add(chunk.subarray(start, end));
        start = end + 1;
        yield taken();
      }
      if (start < chunk.length) add(chunk.subarray(start));
    }
    if (length > 0) yield taken();
  } catch (error) {
    throw gzipProblem(error, number);
  } finally {
    source.destroy();
    unpacked.destroy();
  }
}

function textOf(bytes: Buffer, number: number): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new HttpProblem('malformed-request', `Line ${number} of the archive is not UTF-8 text.`);
  }
}

const MIB = 1024 ** 2;
const told = (bytes: number) =>
  bytes < MIB ? `${bytes} bytes` : `${bytes} bytes (${(bytes / MIB).toFixed(0)} MiB)`;

function lineTooLong(number: number, most: number): HttpProblem {
  return new HttpProblem(
    'too-large',
    `Line ${number} of the archive is longer than ${told(most)}. If it is a true archive, set LOOMWRIGHT_BODY_BYTES higher where it is read in.`,
  );
}

function unpacksToTooMuch(most: number): HttpProblem {
  return new HttpProblem(
    'too-large',
    `The archive unpacks to more than ${told(most)}. If it is a true archive, set LOOMWRIGHT_ARCHIVE_BYTES higher where it is read in.`,
  );
}

export function packedTooLarge(most: number): HttpProblem {
  return new HttpProblem(
    'too-large',
    `The archive is larger than ${told(most)}. Set LOOMWRIGHT_ARCHIVE_BYTES higher where it is read in.`,
  );
}

/** What zlib has against a file, in words; anything else as it is. */
function gzipProblem(error: unknown, line: number): unknown {
  const code = (error as { code?: unknown } | null)?.code;
  if (code === 'Z_BUF_ERROR') return cutOff(line);
  if (typeof code !== 'string' || !code.startsWith('Z_')) return error;
  return new HttpProblem(
    'malformed-request',
    line === 1
      ? 'This file is not an archive, or it is damaged: it is not packed with gzip. Use the file that was exported, unchanged.'
      : `The archive is damaged at line ${line}. Take it again from where it came.`,
  );
}

export function cutOff(line: number): HttpProblem {
  return new HttpProblem(
    'malformed-request',
    `The archive ends in the middle, at line ${line}. It is incomplete. Take it again from where it came.`,
  );
}
