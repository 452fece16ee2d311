import { z } from 'zod';
import {
  Conflict,
  Forbidden,
  Invalid,
  Moved,
  NotFound,
  sqlState,
  Stale,
  StoreError,
  FOREIGN_KEY_VIOLATION,
  UNIQUE_VIOLATION,
} from '../../db/errors.ts';
import { KeyReused } from '../../db/idempotency.ts';
import { DatabaseAway, outageOf, OutcomeUnknown, StorageFull } from '../../db/outage.ts';
import { QueueFull } from '../../db/tasks.ts';
import { Finding } from '../../worker/engine/model/finding.ts';
import { fewFindings } from '../../worker/engine/model/mostFindings.ts';

/** RFC 9457, with all faults at once and the id under which the request stands in the log. */
export const Problem = z
  .strictObject({
    type: z.string().meta({
      description:
        'The address of a page that explains this kind of problem. Its last word is fixed and never changes.',
      example: '/problems/not-valid',
    }),
    instance: z.string().meta({
      description: 'Names this one occurrence. It is in the log.',
      example: 'urn:uuid:01a213a1-9f75-7282-ab0e-171a66b0be74',
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
  'too-many-requests': { status: 429, title: 'Too many requests within a minute' },
  'queue-full': { status: 429, title: 'Too many tasks of your club are waiting' },
  'out-of-time': { status: 503, title: 'It took too long' },
  'not-ready': { status: 503, title: 'Not ready' },
  'database-away': { status: 503, title: 'The database does not answer' },
  'outcome-unknown': { status: 503, title: 'It is not known whether this was stored' },
  'storage-full': { status: 507, title: 'The disk is full' },
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

/** What is known of a request when an error ends it. */
export interface Asked {
  method: string;
  /** Whether it has an Idempotency-Key. */
  once: boolean;
  /** How far it came with what it has to store. */
  stage: Stage;
}

/** `before`: nothing was to be stored yet; `storing`: within the transaction that stores; `maybe`: after it, or in several. */
export type Stage = 'before' | 'storing' | 'maybe';

const isRead = ({ method }: Asked) => ['GET', 'HEAD', 'OPTIONS'].includes(method);

/** What a store refused, as a problem; undefined for what nobody foresaw. */
export function problemOf(error: unknown, asked: Asked): HttpProblem | undefined {
  if (error instanceof HttpProblem) return error;
  const outage = outageProblem(error, asked);
  if (outage) return outage;
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

/** What nobody foresaw, told without saying more than is known. */
export function unforeseenProblem(asked: Asked, requestId: string): HttpProblem {
  return new HttpProblem(
    'internal',
    `${storedOrNot(asked)} Report this fault with the request id ${requestId}.`,
  );
}

function storedOrNot(asked: Asked): string {
  if (isRead(asked)) return 'A fault of the server ended this request.';
  if (asked.stage !== 'maybe') return 'Nothing was stored.';
  return `It may be stored or not. ${howToRepeat(asked)}`;
}

function howToRepeat({ method, once }: Asked): string {
  if (once)
    return 'Send the same request again with the same Idempotency-Key: it is done only once, and you get its answer.';
  if (method === 'POST')
    return 'First look whether it is there. Send it again only if it is not. If you send an Idempotency-Key with a POST, you can repeat it safely: it is done only once.';
  return 'Read it again before you repeat the request.';
}

const RETRY_SECONDS = { away: '2', full: '60' };

/** The database is away or full, or its answer to a commit was lost. */
function outageProblem(error: unknown, asked: Asked): HttpProblem | undefined {
  const soon = { headers: { 'retry-after': RETRY_SECONDS.away } };
  const nothing = isRead(asked) ? '' : 'Nothing was stored. ';
  const outage = outageOf(error);
  if (error instanceof StorageFull || outage === 'full')
    return new HttpProblem(
      'storage-full',
      `The disk of the server is full. ${nothing}Reading still works. Ask who runs the server to free some room, then try again.`,
      { headers: { 'retry-after': RETRY_SECONDS.full } },
    );
  if (error instanceof OutcomeUnknown && asked.stage !== 'before' && !isRead(asked))
    return new HttpProblem(
      'outcome-unknown',
      `The connection to the database was lost while this was stored. It may be stored or not. ${howToRepeat(asked)}`,
      soon,
    );
  if (error instanceof OutcomeUnknown || error instanceof DatabaseAway || outage === 'away')
    return new HttpProblem(
      'database-away',
      `The database does not answer. ${nothing}Try again in a few seconds.`,
      soon,
    );
  return undefined;
}

function storeProblem(error: StoreError): HttpProblem {
  if (error instanceof NotFound) return new HttpProblem('not-found', error.message);
  if (error instanceof Forbidden) return new HttpProblem('forbidden', error.message);
  if (error instanceof Stale) return new HttpProblem('stale', error.message);
  if (error instanceof Invalid)
    return new HttpProblem('not-valid', error.message, { findings: error.findings });
  if (error instanceof QueueFull)
    return new HttpProblem('queue-full', error.message, { headers: { 'retry-after': '30' } });
  if (error instanceof KeyReused) return new HttpProblem('key-reused', error.message);
  if (error instanceof Conflict || error instanceof Moved) return new HttpProblem('conflict', error.message);
  return new HttpProblem(
    'internal',
    'The database refused this. The log has the details under this request id.',
  );
}

/** What is known of a request whose answer is a problem. */
interface Occurrence {
  requestId: string;
  /** A name of this one request that is ours alone: a caller may send the same request id twice. */
  instance: string;
  /** Where the world finds this server, without a slash at the end; '' where nobody has said. */
  publicUrl: string;
}

/** A problem as the document that a caller gets. */
export function problemDocument(
  problem: HttpProblem,
  { requestId, instance, publicUrl }: Occurrence,
): { status: number; headers: Record<string, string>; body: string } {
  const { status, title } = KINDS[problem.kind];
  const body: Problem = {
    type: `${publicUrl}${problemPath(problem.kind)}`,
    title,
    status,
    detail: problem.message,
    instance: `urn:uuid:${instance}`,
    requestId,
    ...(problem.findings ? { findings: fewFindings(problem.findings) } : {}),
  };
  return {
    status,
    headers: { 'content-type': PROBLEM_TYPE, 'cache-control': 'no-store', ...problem.headers },
    body: JSON.stringify(body),
  };
}

/** Where the page of a kind of problem is: a whole path, as RFC 9457 §3.1.1 has it of a reference that is not absolute. */
export function problemPath(kind: ProblemKind | '{kind}'): string {
  return `/problems/${kind}`;
}

export function statusOf(kind: ProblemKind): number {
  return KINDS[kind].status;
}

export function titleOf(kind: ProblemKind): string {
  return KINDS[kind].title;
}

/** In order of their status. */
export const PROBLEM_KINDS = (Object.keys(KINDS) as ProblemKind[]).sort(
  (a, b) => KINDS[a].status - KINDS[b].status,
);

export function isProblemKind(word: string): word is ProblemKind {
  return Object.hasOwn(KINDS, word);
}
