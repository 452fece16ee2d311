import type { Hono } from 'hono';
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import type { Deps, Env } from '../http/deps.ts';
import { problemAnswer } from '../http/openapi.ts';
import { HttpProblem, statusOf } from '../http/problem.ts';

const Health = z.strictObject({ status: z.literal('ok') }).meta({ id: 'Health' });

/** What answers without a key, for the OpenAPI document. */
export const openPaths: ZodOpenApiPathsObject = {
  '/healthz': {
    get: {
      operationId: 'getHealthz',
      tags: ['service'],
      summary: 'Check whether the process runs',
      security: [],
      responses: {
        200: { description: 'The process runs.', content: { 'application/json': { schema: Health } } },
      },
    },
  },
  '/readyz': {
    get: {
      operationId: 'getReadyz',
      tags: ['service'],
      summary: 'Check whether the database and the queue answer',
      security: [],
      responses: {
        200: { description: 'Ready.', content: { 'application/json': { schema: Health } } },
        [statusOf('not-ready')]: problemAnswer(),
      },
    },
  },
  '/openapi.json': {
    get: {
      operationId: 'getOpenapi',
      tags: ['service'],
      summary: 'Read this document',
      security: [],
      responses: {
        200: {
          description: 'The OpenAPI 3.1 document.',
          content: { 'application/json': { schema: z.looseObject({}) } },
        },
      },
    },
  },
};

const READY_WITHIN_MS = 2_000;

export function mountOpen(app: Hono<Env>, deps: Deps, document: object): void {
  app.get('/healthz', (c) => c.json({ status: 'ok' }));
  app.get('/readyz', async (c) => {
    const down = await whatIsDown(deps);
    if (down.length > 0)
      throw new HttpProblem('not-ready', down.join(' '), {
        headers: { 'retry-after': '5' },
      });
    return c.json({ status: 'ok' });
  });
  app.get('/openapi.json', (c) => c.json(document));
}

async function whatIsDown(deps: Deps): Promise<string[]> {
  const checks: [string, Promise<void>][] = [
    ['The database does not answer.', deps.database.ping()],
    ['The disk of the database is full: reading works, storing does not.', deps.database.room()],
    ['The queue does not answer.', deps.wake.ready()],
  ];
  const outcomes = await Promise.all(
    checks.map(async ([fault, check]) => ((await answersInTime(check)) ? [] : [fault])),
  );
  return outcomes.flat();
}

async function answersInTime(check: Promise<void>): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<false>((resolve) => (timer = setTimeout(() => resolve(false), READY_WITHIN_MS)));
  const answered = check.then(
    () => true,
    () => false,
  );
  return Promise.race([answered, late]).finally(() => clearTimeout(timer));
}
