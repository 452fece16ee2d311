import type { Context } from 'hono';
import type { z } from 'zod';
import { parsed } from '../../worker/engine/model/parsed.ts';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import type { ShortContext } from '../../worker/engine/model/short/form.ts';
import { pointer, type Finding } from '../../worker/engine/model/finding.ts';
import { jsonFault } from '../../worker/engine/model/jsonFault.ts';
import { HttpProblem } from './problem.ts';

/** The text of a JSON body. Problems: 415 for another type, 413 for more bytes than allowed. */
export async function readJsonText(c: Context, maxBytes: number): Promise<string> {
  const type = c.req.header('content-type') ?? '';
  if (!/^application\/(json|[\w.-]+\+json)\s*(;|$)/i.test(type))
    throw new HttpProblem(
      'unsupported-media-type',
      `Send JSON with Content-Type: application/json. The Content-Type of this request was ${type === '' ? 'empty' : show(type)}.`,
    );
  return readLimited(c.req.raw, maxBytes);
}

/** Problem: 415 where the body is of another type. */
export function requireType(c: Context, type: string): void {
  const came = (c.req.header('content-type') ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
  if (came !== type)
    throw new HttpProblem(
      'unsupported-media-type',
      `Send the file with Content-Type: ${type}; this came as ${came === '' ? 'nothing' : show(came)}.`,
    );
}

/** The problem of a body of more bytes than allowed. */
export const bodyTooLarge = (maxBytes: number) =>
  new HttpProblem(
    'too-large',
    `The body is larger than ${maxBytes} bytes (${(maxBytes / 1024 / 1024).toFixed(1)} MiB). Send less at a time.`,
  );

async function readLimited(request: Request, maxBytes: number): Promise<string> {
  const tooLarge = () => bodyTooLarge(maxBytes);
  if (Number(request.headers.get('content-length') ?? 0) > maxBytes) throw tooLarge();
  const chunks: Uint8Array[] = [];
  let size = 0;
  if (request.body)
    for await (const chunk of request.body as unknown as AsyncIterable<Uint8Array>) {
      size += chunk.byteLength;
      if (size > maxBytes) throw tooLarge();
      chunks.push(chunk);
    }
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(Buffer.concat(chunks));
  } catch {
    throw new HttpProblem('malformed-json', 'The body is not UTF-8 text. Send it as UTF-8.');
  }
}

/** JSON as a value. Problems: 400 with line and column; 422 for texts that no database stores. */
export function parseJson(text: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    const fault = jsonFault(text);
    const place = fault && `line ${fault.line}, column ${fault.column}: found ${fault.found}`;
    throw new HttpProblem(
      'malformed-json',
      text.trim() === ''
        ? 'The body is empty. Send JSON.'
        : `The body is not JSON${place === undefined ? '' : `: ${place}`}. Fix it there and send it again.`,
    );
  }
  // Only an escape can bring such a character in: the bytes are UTF-8, and JSON allows no raw zero.
  if (/\\u(0000|d[89a-f])/i.test(text)) {
    const findings = unstorableTexts(value);
    if (findings.length > 0)
      throw new HttpProblem(
        'not-valid',
        'Some of the texts cannot be stored. Fix each fault that is listed and send it again.',
        { findings },
      );
  }
  return value;
}

/** A value as a schema has it. Problem: 422 with every fault. */
export function checked<S extends z.ZodType>(
  schema: S,
  value: unknown,
  detail: string,
  context?: ShortContext,
): z.output<S> {
  const read = parsed(schema, value, context);
  if (!read.success)
    throw new HttpProblem('not-valid', detail, {
      findings: faultsOf(read.error, value, schema).slice(0, MOST_FINDINGS),
    });
  return read.data;
}

/** Enough to mend a document by; a body of a hundred thousand faults is not answered with all of them. */
const MOST_FINDINGS = 1000;

/** No document of ours is nested deeper; what lies below is refused by its schema. */
const DEEPEST = 40;

/** Texts that no database stores: with a zero character, or half of a surrogate pair. */
export function unstorableTexts(value: unknown, path: PropertyKey[] = []): Finding[] {
  if (path.length > DEEPEST) return [];
  if (typeof value === 'string') return isStorable(value) ? [] : [unstorable(path)];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    const here = [...path, key];
    return isStorable(key) ? unstorableTexts(inner, here) : [unstorable(here)];
  });
}

function isStorable(text: string): boolean {
  return !text.includes('\u0000') && text.isWellFormed();
}

function unstorable(path: PropertyKey[]): Finding {
  return {
    code: 'unstorable-text',
    severity: 'stop',
    at: pointer(path.map((key) => (typeof key === 'string' ? key.toWellFormed() : key))),
    where: path.map((key) => String(key).toWellFormed()).join(', ') || 'the whole document',
    found: 'a zero character or half of a surrogate pair',
    todo: 'Remove the character.',
  };
}

function show(text: string): string {
  return JSON.stringify(text.slice(0, 80));
}
