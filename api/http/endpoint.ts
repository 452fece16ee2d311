import type { Context } from 'hono';
import { createHash } from 'node:crypto';
import type { z } from 'zod';
import { asClub, type ClubCtx, type Ctx } from '../../db/club.ts';
import type { Names } from '../../db/references.ts';
import { clubSays } from '../../db/shortContext.ts';
import type { Finding } from '../../worker/engine/model/finding.ts';
import { shown } from '../../worker/engine/model/hidden.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import { keepAnswer, previousAnswer, type Answer } from '../../db/idempotency.ts';
import type { Role } from '../../db/schema/index.ts';
import { checked, jsonOf, readBytes, requireJson, requireType } from './body.ts';
import type { Deps, Env } from './deps.ts';
import type { Changeable } from '../../db/version.ts';
import { requireAccepted } from './accept.ts';
import { cachingHeaders, type Caching } from './caching.ts';
import { changeableBy, etagOfText } from './etag.ts';
import { unknownIn, type NamesIn, type WrongIn } from './names.ts';
import { requireRole } from './keys.ts';
import { unforeseenNamed } from './places.ts';
import { readAlone, readWithClub } from './reading/read.ts';
import { HttpProblem, type ProblemKind } from './problem.ts';
import { sendText } from './send.ts';
import { isTable, requireReadable } from './tableBody.ts';

/** What a handler answers: JSON, or a text of a stated type. `after` runs once the transaction is committed. */
export interface Reply {
  status: number;
  body?: unknown;
  text?: { type: string; content: string };
  headers?: Record<string, string>;
  after?: () => Promise<void>;
}

/** One kind of answer, for the OpenAPI document. */
export interface AnswerDoc {
  description: string;
  schema?: z.ZodType;
  /** Types beside or instead of JSON that the answer may have. */
  textTypes?: string[];
  /** The type of an answer that is bytes. */
  bytesType?: string;
}

/** What a handler is given; each part is checked by its schema. */
export interface Call<P, Q, B> {
  ctx: Ctx;
  params: P;
  query: Q;
  body: B;
  /** The bytes of a table that came in the place of a body. */
  table: Buffer | undefined;
  /** The versions that If-Match names, where the endpoint demands one. */
  version: Changeable;
  path: string;
  header: (name: string) => string | undefined;
  /** Wire parts that the body names by size and colour and that are not there yet. */
  made: readonly Part[];
}

interface Shape<P, Q, B> {
  method: 'get' | 'post' | 'put' | 'delete';
  /** With {names} in braces. */
  path: string;
  tag: string;
  summary: string;
  description?: string;
  /** The least role that may call it. */
  role: Role;
  /** The least role that may do it to what is not the caller’s own, where that is another; the store sees to it. */
  roleForOthers?: Role | 'nobody';
  params?: z.ZodType<P>;
  query?: z.ZodType<Q>;
  /** Names in the query that may stand there more than once: the schema gets a list of them. */
  repeated?: readonly string[];
  body?: z.ZodType<B>;
  /** The type of a body that is bytes; its handler reads it. */
  bytesBody?: string;
  /** Takes a table too, as text/csv, or that alone where it has no body: its handler reads it. */
  table?: true;
  /** What the body names that must be there: told also where the body has other faults. */
  names?: NamesIn;
  /** What else is wrong in the body beside what is stored: told also where the body has other faults. */
  wrong?: WrongIn;
  /** 'optional': where it is left out, the latest is meant. */
  ifMatch?: boolean | 'optional';
  /** false: a POST whose answer must not be kept, so that it takes no Idempotency-Key. */
  once?: false;
  answers: Record<number, AnswerDoc>;
  /** How long what is read may be kept; never, where nothing is said. */
  cache?: Caching;
  /** Problems beside those that every endpoint may answer with. */
  problems?: ProblemKind[];
}

/** An endpoint that answers once, in one transaction of its club. */
export interface Endpoint extends Shape<unknown, unknown, unknown> {
  /** Another answer, outside any transaction, where the caller asks for that; undefined where not. */
  instead?: (c: Context<Env>, call: SlowCall<never, never>, deps: Deps) => Promise<Response> | undefined;
  handle: (call: Call<never, never, never>, deps: Deps) => Promise<Reply>;
}

/** An endpoint that streams: outside any transaction. */
export interface StreamEndpoint extends Shape<unknown, unknown, unknown> {
  stream: (c: Context<Env>, params: never, deps: Deps) => Promise<Response>;
}

/** What a slow handler is given; it goes to its club's tables by asClub. */
export interface SlowCall<P, Q> {
  ctx: ClubCtx;
  params: P;
  query: Q;
}

/** An endpoint whose answer takes a while: outside any transaction, so that no connection is held meanwhile. */
export interface SlowEndpoint extends Shape<unknown, unknown, unknown> {
  slow: (call: SlowCall<never, never>, deps: Deps) => Promise<Reply>;
}

/** An endpoint that reads or answers bytes: outside any transaction. */
export interface RawEndpoint extends Shape<unknown, unknown, unknown> {
  raw: (c: Context<Env>, call: SlowCall<never, never>, deps: Deps) => Promise<Response>;
}

/** An endpoint that needs a key. */
export type KeyedEndpoint = Endpoint | SlowEndpoint | StreamEndpoint | RawEndpoint;

/** What the handler of an open endpoint is given: nobody knows who asks. */
export interface OpenCall<B> {
  body: B;
  base: Pick<ClubCtx, 'requestId' | 'now' | 'newId'>;
  /** Undefined where it is not known. */
  address: string | undefined;
}

/** An endpoint that needs no key: it takes a small body, and goes to the database by itself. */
export interface OpenEndpoint extends Omit<Shape<unknown, unknown, unknown>, 'role' | 'roleForOthers'> {
  role?: undefined;
  roleForOthers?: undefined;
  open: (call: OpenCall<never>, deps: Deps) => Promise<Reply>;
}

export type AnyEndpoint = KeyedEndpoint | OpenEndpoint;

/** Ties the types of an endpoint's parts to those of its handler. */
export function endpoint<P, Q, B>(
  spec: Shape<P, Q, B> & {
    instead?: (c: Context<Env>, call: SlowCall<P, Q>, deps: Deps) => Promise<Response> | undefined;
    handle: (call: Call<P, Q, B>, deps: Deps) => Promise<Reply>;
  },
): Endpoint {
  return spec;
}

export function streamEndpoint<P>(
  spec: Shape<P, unknown, unknown> & {
    stream: (c: Context<Env>, params: P, deps: Deps) => Promise<Response>;
  },
): StreamEndpoint {
  return spec;
}

export function slowEndpoint<P, Q>(
  spec: Shape<P, Q, unknown> & {
    method: 'get';
    slow: (call: SlowCall<P, Q>, deps: Deps) => Promise<Reply>;
  },
): SlowEndpoint {
  return spec;
}

export function rawEndpoint<P, Q>(
  spec: Shape<P, Q, unknown> & {
    raw: (c: Context<Env>, call: SlowCall<P, Q>, deps: Deps) => Promise<Response>;
  },
): RawEndpoint {
  return spec;
}

export function openEndpoint<B>(
  spec: Omit<Shape<never, never, B>, 'role' | 'roleForOthers' | 'params' | 'query' | 'method'> & {
    method: 'post';
    body: z.ZodType<B>;
    open: (call: OpenCall<B>, deps: Deps) => Promise<Reply>;
  },
): OpenEndpoint {
  return { once: false, ...spec };
}

/** For calls that change nothing that was read. */
const NO_VERSION: Changeable = [];

/** Runs one request through an endpoint: role, parameters, body, then the handler in a transaction of the club. */
export async function run(endpoint: KeyedEndpoint, c: Context<Env>, deps: Deps): Promise<Response> {
  const base = c.get('ctx');
  requireRole(base.role, endpoint.role);
  const params = readParams(endpoint, c);
  const query = endpoint.query
    ? checked(
        endpoint.query,
        readQuery(endpoint, c),
        'Some of the query cannot be used. Fix each fault that is listed.',
      )
    : refuseQuery(c.req.query());
  // What the query states comes before what the header likes.
  if (c.req.query('format') === undefined) refuseUnacceptable(endpoint, c.req.header('accept'));
  if ('stream' in endpoint) return endpoint.stream(c, params as never, deps);
  const call = { ctx: base, params, query } as SlowCall<never, never>;
  if ('raw' in endpoint) {
    if (endpoint.bytesBody !== undefined) requireType(c, endpoint.bytesBody);
    c.set('stage', 'maybe');
    return endpoint.raw(c, call, deps);
  }
  // Only what reads answers instead, or slowly.
  const instead = 'instead' in endpoint ? endpoint.instead?.(c, call, deps) : undefined;
  if (instead) return instead;
  if ('slow' in endpoint) return respond(endpoint, answerOf(await endpoint.slow(call, deps)), c);
  const { version, body, made, table, hash } = await received(endpoint, c, deps);
  const whole = {
    params,
    query,
    body,
    made,
    table,
    version,
    path: c.req.path,
    header: (name: string) => c.req.header(name),
  };
  const key = endpoint.method === 'post' ? idempotencyKey(c, endpoint.once !== false) : undefined;

  c.set('stage', 'storing');
  let after: Reply['after'];
  const answer = await asClub(deps.database, base, async (ctx): Promise<Answer> => {
    const use =
      key === undefined ? undefined : { key, route: `${c.req.method} ${c.req.path}`, bodyHash: hash() };
    const before = use ? await previousAnswer({ ctx, input: use }) : null;
    if (before) return { ...before, headers: { ...before.headers, 'idempotent-replay': 'true' } };
    const reply = await endpoint.handle({ ctx, ...whole } as Call<never, never, never>, deps);
    after = reply.after;
    const given = answerOf(reply);
    if (use) await keepAnswer({ ctx, input: { ...use, ...given } });
    return given;
  });
  c.set('stage', 'maybe');
  await after?.();
  return respond(endpoint, answer, c);
}

export const UNUSABLE =
  'Some of what you sent cannot be used. Fix each fault that is listed and send it again.';

/** What came with a request beside its path: the body in long form, the parts that it brings into being, its SHA-256. */
interface Received {
  version: Changeable;
  body: unknown;
  made: readonly Part[];
  table: Buffer | undefined;
  hash: () => string;
}

/** Reads the body, a large one in a thread, and the version that is to be changed. Problems: those of bodies, and 428. */
async function received(endpoint: Endpoint, c: Context<Env>, deps: Deps): Promise<Received> {
  const base = c.get('ctx');
  const versionAsked = () => (endpoint.ifMatch ? changeableBy(c.req.header('if-match')) : NO_VERSION);
  const nothing = { body: undefined, made: [], table: undefined };
  if (!endpoint.body && !endpoint.table)
    return { version: versionAsked(), ...nothing, hash: () => sha256('') };
  const takesTable = endpoint.table === true && (!endpoint.body || isTable(c));
  if (takesTable) {
    requireType(c, 'text/csv');
    requireReadable(c);
  } else requireJson(c);
  const { bodies } = deps;
  let free: (() => void) | undefined;
  try {
    const bytes = await readBytes(c.req.raw, deps.limits.bodyBytes, (size) => {
      if (size > bodies.largeBytes) free ??= bodies.place(base.club);
    });
    const version = versionAsked();
    // What a table leaves to the query is a part of it.
    if (takesTable)
      return { version, ...nothing, table: bytes, hash: () => sha256(`${sha256(bytes)} ${queryOf(c)}`) };
    const read = bytes.length > bodies.largeBytes ? readLarge : readSmall;
    return {
      version,
      table: undefined,
      ...(await read(endpoint, bytes, base, deps)),
      hash: () => sha256(bytes),
    };
  } finally {
    free?.();
  }
}

const queryOf = (c: Context<Env>) => new URL(c.req.url).search;

type Sound = Pick<Received, 'body' | 'made'>;

/**
 * The body as its schema has it, short forms read. What the club settles of these is asked only where the body cannot be
 * read without. Problem: 422 with the faults, those beside what is stored included.
 */
async function readSmall(endpoint: Endpoint, bytes: Buffer, base: ClubCtx, deps: Deps): Promise<Sound> {
  const sent = jsonOf(bytes);
  const alone = readAlone(endpoint, sent);
  const read =
    alone ?? readWithClub(endpoint, sent, await asClub(deps.database, base, (ctx) => clubSays({ ctx })));
  if (read.is === 'sound') return read;
  throw await faulty(endpoint, read, base, deps);
}

/** The same in a thread. */
async function readLarge(endpoint: Endpoint, bytes: Buffer, base: ClubCtx, deps: Deps): Promise<Sound> {
  const asked = { endpoint: `${endpoint.method.toUpperCase()} ${endpoint.path}`, bytes };
  let said = await deps.bodies.read(base.club, asked);
  if (said.says === 'asksClub') {
    const club = await asClub(deps.database, base, (ctx) => clubSays({ ctx }));
    said = await deps.bodies.read(base.club, { ...asked, club });
  }
  switch (said.says) {
    case 'sound':
      return { body: JSON.parse(new TextDecoder().decode(said.body)) as unknown, made: said.made };
    case 'faulty':
      throw await faulty(endpoint, said, base, deps);
    case 'problem':
      throw new HttpProblem(said.kind, said.detail, said.findings ? { findings: said.findings } : {});
    case 'asksClub':
    case 'failed':
      throw unforeseenNamed('reading of a body', said.says === 'failed' ? said.name : 'asksClub');
  }
}

/** The problem of a body with faults, with those that only a look at what is stored can see. */
async function faulty(
  { wrong }: Endpoint,
  { findings, named, long }: { findings: Finding[]; named: Names[]; long?: unknown },
  base: ClubCtx,
  deps: Deps,
): Promise<HttpProblem> {
  const isAsked = named.length > 0 || (wrong !== undefined && long !== undefined);
  const beside = isAsked
    ? await asClub(deps.database, base, async (ctx) => [
        ...(await unknownIn(ctx, named)),
        ...(wrong && long !== undefined ? await wrong(ctx, long) : []),
      ])
    : [];
  return new HttpProblem('not-valid', UNUSABLE, { findings: [...findings, ...beside] });
}

function readParams(endpoint: AnyEndpoint, c: Context<Env>): unknown {
  if (!endpoint.params) return {};
  const parsed = endpoint.params.safeParse(c.req.param());
  // A name that no thing can have is the name of nothing.
  if (!parsed.success)
    throw new HttpProblem(
      'not-found',
      'There is no such thing: the name in the path is not a valid name. Correct the path.',
    );
  return parsed.data;
}

function readQuery({ repeated = [] }: AnyEndpoint, c: Context<Env>): Record<string, string | string[]> {
  const lists = repeated.flatMap((name) => {
    const values = c.req.queries(name);
    return values ? [[name, values] as const] : [];
  });
  return { ...c.req.query(), ...Object.fromEntries(lists) };
}

export function refuseQuery(query: Record<string, string>): Record<string, never> {
  const findings = Object.entries(query).map(([name, value]) => ({
    code: 'unknown-field',
    severity: 'stop' as const,
    at: `/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`,
    where: 'query',
    found: shown(value),
    todo: 'This call takes no query. Leave the query out.',
  }));
  if (findings.length > 0)
    throw new HttpProblem('not-valid', 'Some of the query cannot be used. Fix each fault that is listed.', {
      findings,
    });
  return {};
}

export function idempotencyKey(c: Context<Env>, taken: boolean): string | undefined {
  const key = c.req.header('idempotency-key');
  if (key !== undefined && !taken)
    throw new HttpProblem(
      'malformed-request',
      'This call takes no Idempotency-Key, because its answer is shown only once. Leave the header out.',
    );
  if (key !== undefined && !/^[\x21-\x7e]{1,255}$/.test(key))
    throw new HttpProblem(
      'malformed-request',
      'An Idempotency-Key is 1 to 255 printable ASCII characters without spaces. Fix it, or leave it out.',
    );
  return key;
}

export function answerOf(reply: Reply): Answer {
  const type: Record<string, string> =
    reply.text !== undefined
      ? { 'content-type': reply.text.type }
      : reply.body !== undefined
        ? { 'content-type': 'application/json' }
        : {};
  return {
    status: reply.status,
    headers: { ...type, ...reply.headers },
    body: reply.text?.content ?? (reply.body === undefined ? '' : JSON.stringify(reply.body)),
  };
}

/** Seconds after which it is worth asking what became of something that was accepted (RFC 9110 §10.2.3). */
const ASK_AGAIN = { 'retry-after': '2' };

export function respond(
  endpoint: AnyEndpoint,
  { status, headers, body }: Answer,
  c: Context<Env>,
): Promise<Response> {
  const isRead = endpoint.method === 'get';
  const hasTag = headers['etag'] !== undefined || !isRead || status !== 200;
  return sendText(c, {
    status,
    headers: {
      ...cachingHeaders(isRead ? (endpoint.cache ?? 'never') : 'never'),
      ...(status === 202 ? ASK_AGAIN : {}),
      ...(hasTag ? {} : { etag: etagOfText(body) }),
      ...headers,
    },
    body,
  });
}

/** The types of what an endpoint answers where all goes well; none, where it answers without a body. */
export function typesOf({ answers }: AnyEndpoint): string[] {
  return Object.values(answers).flatMap(({ schema, textTypes = [], bytesType }) => [
    ...(schema ? ['application/json'] : []),
    ...textTypes,
    ...(bytesType === undefined ? [] : [bytesType]),
  ]);
}

/** Problem: 406 where the caller takes none of the types. Most callers say nothing, or take anything. */
export function refuseUnacceptable(endpoint: AnyEndpoint, accept: string | undefined): void {
  if (accept === undefined || accept === '*/*') return;
  const types = typesOf(endpoint);
  if (types.length > 0) requireAccepted(accept, types);
}

function sha256(text: string | Uint8Array): string {
  return createHash('sha256').update(text).digest('hex');
}
