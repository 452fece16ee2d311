import type { Context } from 'hono';
import type { z } from 'zod';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { shown } from '../../worker/engine/model/hidden.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { JSON_DEPTH, readJson } from '../../worker/engine/model/readJson.ts';
import { chunksOf } from './chunks.ts';
import { HttpProblem } from './problem.ts';

/** Problem: 415 for a body of another type than JSON. */
export function requireJson(c: Context): void {
  const type = c.req.header('content-type') ?? '';
  if (!/^application\/(json|[\w.-]+\+json)\s*(;|$)/i.test(type))
    throw new HttpProblem(
      'unsupported-media-type',
      `Send JSON with Content-Type: application/json. The Content-Type of this request was ${type === '' ? 'empty' : shown(type)}.`,
    );
}

/** Problem: 415 where the body is of another type. */
export function requireType(c: Context, type: string): void {
  const came = (c.req.header('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  if (came !== type)
    throw new HttpProblem(
      'unsupported-media-type',
      `Send the file with Content-Type: ${type}; this came as ${came === '' ? 'nothing' : shown(came)}.`,
    );
}

/** The problem of a body of more bytes than allowed. */
export const bodyTooLarge = (maxBytes: number) =>
  new HttpProblem(
    'too-large',
    `The body is larger than ${maxBytes} bytes (${(maxBytes / 1024 / 1024).toFixed(1)} MiB). Send less at a time.`,
  );

/**
 * The bytes of a body. `onSize` hears how many there are as they come, and may throw. Problem: 413 for more than allowed.
 */
export async function readBytes(
  request: Request,
  maxBytes: number,
  onSize: (size: number) => void,
): Promise<Buffer> {
  if (Number(request.headers.get('content-length') ?? 0) > maxBytes) throw bodyTooLarge(maxBytes);
  const chunks: Uint8Array[] = [];
  let size = 0;
  for await (const chunk of chunksOf(request)) {
    size += chunk.byteLength;
    if (size > maxBytes) throw bodyTooLarge(maxBytes);
    onSize(size);
    chunks.push(chunk);
  }
  return Buffer.concat(chunks);
}

/**
 * The JSON of a body as a value. Problems: 400 with line and column for what is no JSON; 413 for more values than any document
 * of ours has; 422 for what is nested too deep, for a key that stands twice, and for texts that cannot be stored or hide
 * characters.
 */
export function jsonOf(bytes: Uint8Array): unknown {
  const read = readJson(utf8(bytes), {
    depth: JSON_DEPTH,
    values: LIMITS.bodyValues,
    keys: LIMITS.bodyKeys,
  });
  if ('value' in read) return read.value;
  if ('findings' in read) throw new HttpProblem('not-valid', UNUSABLE_JSON, { findings: read.findings });
  if ('tooMany' in read) {
    const { line, column, most } = read.tooMany;
    throw new HttpProblem(
      'too-large',
      `The body has more than ${most} values, counted up to line ${line}, column ${column}. Send less at a time.`,
    );
  }
  if ('empty' in read) throw new HttpProblem('malformed-json', 'The body is empty. Send JSON.');
  const { line, column, found } = read.notJson;
  throw new HttpProblem(
    'malformed-json',
    `The body is not JSON: line ${line}, column ${column}: found ${found}. Fix it there and send it again.`,
  );
}

const UNUSABLE_JSON = 'This JSON cannot be used as it is. Fix each fault that is listed and send it again.';

function utf8(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    throw new HttpProblem('malformed-json', 'The body is not UTF-8 text. Send it as UTF-8.');
  }
}

/** A value as a schema has it. Problem: 422 with the faults. */
export function checked<S extends z.ZodType>(schema: S, value: unknown, detail: string): z.output<S> {
  const read = parsed(schema, value);
  if (!read.success)
    throw new HttpProblem('not-valid', detail, { findings: faultsOf(read.error, value, schema) });
  return read.data;
}
