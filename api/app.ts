import { Hono } from 'hono';
import { ENDPOINTS } from './endpoints.ts';
import type { Deps, Env } from './http/deps.ts';
import { run } from './http/endpoint.ts';
import { authenticate } from './http/keys.ts';
import { openApiDocument } from './http/openapi.ts';
import { HttpProblem, problemOf, problemResponse } from './http/problem.ts';
import { mountOpen, openPaths } from './routes/open.ts';

/** The whole app from its dependencies. */
export function createApp(deps: Deps): Hono<Env> {
  const app = new Hono<Env>();

  app.use(async function logRequest(c, next) {
    const given = c.req.header('x-request-id') ?? '';
    c.set('requestId', /^[\w.-]{1,100}$/.test(given) ? given : deps.newId());
    const started = performance.now();
    await next();
    c.header('x-request-id', c.get('requestId'));
    c.header('x-content-type-options', 'nosniff');
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
    const problem = problemOf(error);
    if (problem) return problemResponse(problem, requestId);
    // A database driver puts SQL and values into its messages: only the kind of error is logged.
    deps.log.error({ requestId, err: { name: error.name, stack: framesOf(error) } }, 'unforeseen');
    return problemResponse(
      new HttpProblem('internal', `Nothing was stored. Report this fault with the request id ${requestId}.`),
      requestId,
    );
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
