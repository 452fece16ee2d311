import { Hono, type Context, type MiddlewareHandler } from 'hono';
import type { ClubCtx } from '../db/club.ts';
import { ENDPOINTS } from './endpoints.ts';
import type { Deps, Env } from './http/deps.ts';
import { run } from './http/endpoint.ts';
import { runOpen } from './http/openEndpoint.ts';
import { authenticate } from './http/keys.ts';
import { openApiDocument } from './http/openapi.ts';
import {
  HttpProblem,
  problemDocument,
  problemOf,
  unforeseenProblem,
  type Asked,
  type ProblemKind,
} from './http/problem.ts';
import { sendText } from './http/send.ts';
import { sqlState } from '../db/errors.ts';
import { mountOpen, openPaths } from './routes/open.ts';

/** Problems of the database, told in the log with what it said. */
const OUTAGES: ReadonlySet<ProblemKind> = new Set(['database-away', 'outcome-unknown', 'storage-full']);

/** The whole app from its dependencies. */
export function createApp(deps: Deps): Hono<Env> {
  const app = new Hono<Env>();

  app.use(async function logRequest(c, next) {
    const given = c.req.header('x-request-id') ?? '';
    const instance = deps.newId();
    const requestId = /^[\w.-]{1,100}$/.test(given) ? given : instance;
    c.set('instance', instance);
    c.set('requestId', requestId);
    const started = performance.now();
    await next();
    // What a stream would have sent is not made for a HEAD.
    if (c.req.method === 'HEAD') await c.res.body?.cancel();
    // Not by c.header, which makes a new response of one that is ready, and a stream of its text.
    const { headers } = c.res;
    for (const [name, value] of ALWAYS) headers.set(name, value);
    headers.set('x-request-id', requestId);
    const seconds = (performance.now() - started) / 1000;
    const { status } = c.res;
    const { club, actor }: Partial<ClubCtx> = c.get('ctx') ?? {};
    const problem = c.get('problem');
    deps.log.info({
      requestId,
      method: c.req.method,
      path: c.req.path,
      status,
      ms: Math.round(seconds * 1000),
      ...(club === undefined ? {} : { club, actor }),
      ...(problem === undefined ? {} : { problem, instance }),
    });
    deps.meter?.answered({ route: c.get('route') ?? 'none', method: c.req.method, status, seconds });
  });

  const { publicUrl = '' } = deps;
  const answerProblem = (c: Context<Env>, problem: HttpProblem) => {
    c.set('problem', problem.kind);
    const requestId = c.get('requestId');
    return sendText(c, problemDocument(problem, { requestId, instance: c.get('instance'), publicUrl }));
  };

  for (const path of Object.keys(openPaths)) app.get(honoPath(path), noteRoute(path));
  mountOpen(app, deps, openApiDocument(ENDPOINTS, openPaths, publicUrl));
  for (const endpoint of ENDPOINTS) {
    const at = [endpoint.method.toUpperCase(), honoPath(endpoint.path), noteRoute(endpoint.path)] as const;
    if ('open' in endpoint) app.on(...at, (c) => runOpen(endpoint, c, deps));
    else app.on(...at, authenticate(deps), (c) => run(endpoint, c, deps));
  }

  const known = [
    ...ENDPOINTS.map(({ path, method }) => ({ path, method })),
    ...Object.keys(openPaths).map((path) => ({ path, method: 'get' })),
  ];

  app.notFound((c) => {
    const methods = known.filter(({ path }) => pattern(path).test(c.req.path)).map(({ method }) => method);
    if (methods.length === 0)
      return answerProblem(
        c,
        new HttpProblem('not-found', 'There is nothing at this path. GET /openapi.json lists all paths.'),
      );
    const allowed = allowedOf(methods);
    const headers = { allow: allowed.join(', ') };
    if (c.req.method === 'OPTIONS') return new Response(null, { status: 204, headers });
    const detail = `${c.req.method} is not supported here. Use one of these: ${headers.allow}.`;
    return answerProblem(c, new HttpProblem('method-not-allowed', detail, { headers }));
  });

  app.onError((error, c) => {
    const requestId = c.get('requestId');
    const asked: Asked = {
      method: c.req.method,
      once: c.req.header('idempotency-key') !== undefined,
      stage: c.get('stage') ?? 'before',
    };
    const problem = problemOf(error, asked);
    if (problem) {
      if (OUTAGES.has(problem.kind))
        deps.log.warn({ requestId, problem: problem.kind, sqlState: sqlState(error) }, 'the database failed');
      return answerProblem(c, problem);
    }
    // A database driver puts SQL and values into its messages: only the kind of error is logged.
    const err = { name: error.name, stack: framesOf(error) };
    deps.log.error({ requestId, sqlState: sqlState(error), err }, 'unforeseen');
    return answerProblem(c, unforeseenProblem(asked, requestId));
  });

  return app;
}

/** Headers of every answer: what is read here is for its caller alone, and is what its type says. */
const ALWAYS = [
  ['x-content-type-options', 'nosniff'],
  ['referrer-policy', 'no-referrer'],
  ['cross-origin-resource-policy', 'same-origin'],
] as const;

function noteRoute(path: string): MiddlewareHandler<Env> {
  return (c, next) => {
    c.set('route', path);
    return next();
  };
}

/** Whatever answers GET answers HEAD, and all paths answer OPTIONS (RFC 9110 §9.3.2, §9.3.7). */
function allowedOf(methods: readonly string[]): string[] {
  return [
    ...methods.flatMap((method) => (method === 'get' ? ['GET', 'HEAD'] : [method.toUpperCase()])),
    'OPTIONS',
  ];
}

function honoPath(path: string): string {
  return path.replaceAll(/\{(\w+)\}/g, ':$1');
}

function pattern(path: string): RegExp {
  return new RegExp(`^${path.replaceAll('.', '\\.').replaceAll(/\{\w+\}/g, '[^/]+')}$`);
}

/** The frames of a stack, without the message above them. */
function framesOf(error: Error): string[] {
  return (error.stack ?? '')
    .split('\n')
    .filter((line) => /^\s+at /.test(line))
    .slice(0, 12)
    .map((line) => line.trim());
}
