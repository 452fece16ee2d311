import { Hono } from 'hono';
import type { Deps, Env } from './http/deps.ts';
import { run, type AnyEndpoint } from './http/endpoint.ts';
import { authenticate } from './http/keys.ts';
import { openApiDocument } from './http/openapi.ts';
import {
  HttpProblem,
  problemOf,
  problemResponse,
  unforeseenProblem,
  type Asked,
  type ProblemKind,
} from './http/problem.ts';
import { sqlState } from '../db/errors.ts';
import { archiveRoutes } from './routes/archive.ts';
import { catalogueRoutes } from './routes/catalogue.ts';
import { checkRoutes } from './routes/checks.ts';
import { clubRoutes } from './routes/club.ts';
import { fitRoutes } from './routes/fits.ts';
import { loomRoutes } from './routes/looms.ts';
import { mountOpen, openPaths } from './routes/open.ts';
import { quoteRoutes } from './routes/quotes.ts';
import { sheetRoutes } from './routes/sheets.ts';
import { tableRoutes } from './routes/tables.ts';
import { taskRoutes } from './routes/tasks.ts';
import { winningPriceRoutes } from './routes/winningPrices.ts';

const ENDPOINTS: readonly AnyEndpoint[] = [
  ...catalogueRoutes,
  ...fitRoutes,
  ...loomRoutes,
  ...tableRoutes,
  ...checkRoutes,
  ...quoteRoutes,
  ...sheetRoutes,
  ...winningPriceRoutes,
  ...taskRoutes,
  ...clubRoutes,
  ...archiveRoutes,
];

/** Problems of the database, told in the log with what it said. */
const OUTAGES: ReadonlySet<ProblemKind> = new Set(['database-away', 'outcome-unknown', 'storage-full']);

/** The whole app from its dependencies. */
export function createApp(deps: Deps): Hono<Env> {
  const app = new Hono<Env>();

  app.use(async function logRequest(c, next) {
    const given = c.req.header('x-request-id') ?? '';
    c.set('requestId', /^[\w.-]{1,100}$/.test(given) ? given : deps.newId());
    const started = performance.now();
    await next();
    // Not by c.header, which makes a new response of one that is ready, and a stream of its text.
    const { headers } = c.res;
    headers.set('x-request-id', c.get('requestId'));
    headers.set('x-content-type-options', 'nosniff');
    deps.log.info({
      requestId: c.get('requestId'),
      method: c.req.method,
      path: c.req.path,
      status: c.res.status,
      ms: Math.round(performance.now() - started),
    });
  });

  mountOpen(app, deps, openApiDocument(ENDPOINTS, openPaths));
  for (const endpoint of ENDPOINTS)
    app.on(endpoint.method.toUpperCase(), honoPath(endpoint.path), authenticate(deps), (c) =>
      run(endpoint, c, deps),
    );

  const known = [
    ...ENDPOINTS.map(({ path, method }) => ({ path, method })),
    ...Object.keys(openPaths).map((path) => ({ path, method: 'get' })),
  ];

  app.notFound((c) => {
    const allowed = known
      .filter(({ path }) => pattern(path).test(c.req.path))
      .map(({ method }) => method.toUpperCase());
    const problem =
      allowed.length > 0
        ? new HttpProblem(
            'method-not-allowed',
            `${c.req.method} is not supported here. Use ${allowed.join(' or ')}.`,
            {
              headers: { allow: allowed.join(', ') },
            },
          )
        : new HttpProblem('not-found', 'There is nothing at this path. GET /openapi.json lists all paths.');
    return problemResponse(problem, c.get('requestId'));
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
      return problemResponse(problem, requestId);
    }
    // A database driver puts SQL and values into its messages: only the kind of error is logged.
    const err = { name: error.name, stack: framesOf(error) };
    deps.log.error({ requestId, sqlState: sqlState(error), err }, 'unforeseen');
    return problemResponse(unforeseenProblem(asked, requestId), requestId);
  });

  return app;
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
