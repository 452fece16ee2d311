import { z } from 'zod';
import {
  Conflict,
  Invalid,
  NotFound,
  sqlState,
  Stale,
  StoreError,
  FOREIGN_KEY_VIOLATION,
  UNIQUE_VIOLATION,
} from '../../db/errors.ts';
import { KeyReused } from '../../db/idempotency.ts';
import { Finding } from '../../worker/engine/model/finding.ts';
import { fewFindings } from '../../worker/engine/model/mostFindings.ts';

/** RFC 9457, with all faults at once and the id under which the request stands in the log. */
export const Problem = z
  .strictObject({
    type: z.string().meta({
      description: 'A fixed word for the kind of problem. It never changes.',
      example: 'urn:loomwright:problem:not-valid',
    }),
    title: z.string(),
    status: z.int(),
    detail: z.string().meta({ description: 'What happened and how to fix it.' }),
    requestId: z.string(),
    findings: z.array(Finding).optional(),
  })
  .meta({ id: 'Problem', description: 'A problem document as in RFC 9457.' });
export type Problem = z.infer<typeof Problem>;

export const PROBLEM_TYPE = 'application/problem+json';

interface Kind {
  status: number;
  title: string;
}

/** Every kind of problem that this API answers with. */
const KINDS = {
  'malformed-json': { status: 400, title: 'The body is not JSON' },
  'malformed-request': { status: 400, title: 'The request cannot be read' },
  unauthorized: { status: 401, title: 'A key is needed' },
  forbidden: { status: 403, title: 'This key may not do this' },
  'not-found': { status: 404, title: 'Not found' },
  'method-not-allowed': { status: 405, title: 'This method is not supported here' },
  'not-acceptable': { status: 406, title: 'It cannot be had in that form' },
  conflict: { status: 409, title: 'It conflicts with what is stored' },
  stale: { status: 412, title: 'It has changed since you read it' },
  'too-large': { status: 413, title: 'The body is too large' },
  'unsupported-media-type': { status: 415, title: 'The body has the wrong type' },
  'not-valid': { status: 422, title: 'Some of what you sent cannot be used' },
  'key-reused': { status: 422, title: 'The Idempotency-Key was already used' },
  'if-match-needed': { status: 428, title: 'State which version you change' },
  'too-many': { status: 429, title: 'Too many requests at once' },
  'out-of-time': { status: 503, title: 'It took too long' },
  'not-ready': { status: 503, title: 'Not ready' },
  internal: { status: 500, title: 'The server failed' },
} as const satisfies Record<string, Kind>;
export type ProblemKind = keyof typeof KINDS;

/** Thrown anywhere below the edge; becomes a problem document there. */
export class HttpProblem extends Error {
  readonly kind: ProblemKind;
  readonly findings: Finding[] | undefined;
  readonly headers: Record<string, string>;
  constructor(
    kind: ProblemKind,
    detail: string,
    extra: { findings?: Finding[]; headers?: Record<string, string> } = {},
  ) {
    super(detail);
    this.kind = kind;
    this.findings = extra.findings;
    this.headers = extra.headers ?? {};
  }
}

/** A name that was sent and is another than the stored one. */
export function neverChanges(field: 'code' | 'name', stored: string, sent: string): HttpProblem {
  return new HttpProblem('not-valid', `A ${field} never changes.`, {
    findings: [differs(field, stored, sent)],
  });
}

/** The finding for a field that names a thing and is another than the stored one. */
export function differs(field: string, stored: string, sent: string): Finding {
  return {
    code: `${field}-differs`,
    severity: 'stop',
    at: `/${field}`,
    where: field,
    found: JSON.stringify(sent),
    limit: stored,
    todo: `Send ${stored} here. For another ${field}, add a new one.`,
  };
}

/** What a store refused, as a problem; undefined for what nobody foresaw. */
export function problemOf(error: unknown): HttpProblem | undefined {
  if (error instanceof HttpProblem) return error;
  if (error instanceof StoreError) return storeProblem(error);
  const state = sqlState(error);
  // Between a look and a write somebody else was faster.
  if (state === FOREIGN_KEY_VIOLATION || state === UNIQUE_VIOLATION)
    return new HttpProblem(
      'conflict',
      'Something that this names was changed at the same moment. Read it again and try again.',
    );
  return undefined;
}

function storeProblem(error: StoreError): HttpProblem {
  if (error instanceof NotFound) return new HttpProblem('not-found', error.message);
  if (error instanceof Stale) return new HttpProblem('stale', error.message);
  if (error instanceof Invalid)
    return new HttpProblem('not-valid', error.message, { findings: error.findings });
  if (error instanceof KeyReused) return new HttpProblem('key-reused', error.message);
  if (error instanceof Conflict) return new HttpProblem('conflict', error.message);
  return new HttpProblem(
    'internal',
    'The database refused this. The log has the details under this request id.',
  );
}

export function problemResponse(problem: HttpProblem, requestId: string): Response {
  const { status, title } = KINDS[problem.kind];
  const body: Problem = {
    type: `urn:loomwright:problem:${problem.kind}`,
    title,
    status,
    detail: problem.message,
    requestId,
    ...(problem.findings ? { findings: fewFindings(problem.findings) } : {}),
  };
  return new Response(JSON.stringify(body), {
    status,
    headers: { 'content-type': PROBLEM_TYPE, ...problem.headers },
  });
}

export function statusOf(kind: ProblemKind): number {
  return KINDS[kind].status;
}
