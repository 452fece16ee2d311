import type { Context, Hono } from 'hono';
import { z } from 'zod';
import type { ZodOpenApiPathsObject } from 'zod-openapi';
import { databaseParts } from '../../db/ready.ts';
import { notAnswering } from '../../worker/wake/ready.ts';
import { requireAccepted } from '../http/accept.ts';
import type { Deps, Env } from '../http/deps.ts';
import { etagOfText } from '../http/etag.ts';
import { HTML, INERT } from '../http/html.ts';
import { problemAnswer } from '../http/openapi.ts';
import { HttpProblem, isProblemKind, PROBLEM_KINDS, statusOf } from '../http/problem.ts';
import { sendText } from '../http/send.ts';
import { problemHtml, problemsHtml } from '../problems/page.ts';

const Health = z.strictObject({ status: z.literal('ok') }).meta({ id: 'Health' });

const PAGE = { description: 'The page.', content: { 'text/html': { schema: { type: 'string' as const } } } };

const UNCHANGED = { description: 'It has not changed since the ETag in If-None-Match.' };

/** What answers without a key, for the OpenAPI document. */
export const openPaths: ZodOpenApiPathsObject = {
  '/problems': {
    get: {
      operationId: 'getProblems',
      tags: ['service'],
      summary: 'List all kinds of problem, as a page',
      description: 'Each kind has a page of its own.',
      security: [],
      responses: { 200: PAGE, 304: UNCHANGED, [statusOf('not-acceptable')]: problemAnswer() },
    },
  },
  '/problems/{kind}': {
    get: {
      operationId: 'getProblemsByKind',
      tags: ['service'],
      summary: 'Read what a kind of problem is and what to do, as a page',
      description: 'The `type` of a problem leads here.',
      security: [],
      requestParams: { path: z.object({ kind: z.enum(PROBLEM_KINDS) }) },
      responses: {
        200: PAGE,
        304: UNCHANGED,
        [statusOf('not-found')]: problemAnswer(),
        [statusOf('not-acceptable')]: problemAnswer(),
      },
    },
  },
  '/healthz': {
    get: {
      operationId: 'getHealthz',
      tags: ['service'],
      summary: 'Check whether the process runs',
      description:
        'It looks at nothing else: a process that runs answers, also while a part that it needs is away.',
      security: [],
      responses: {
        200: { description: 'The process runs.', content: { 'application/json': { schema: Health } } },
        [statusOf('not-acceptable')]: problemAnswer(),
      },
    },
  },
  '/readyz': {
    get: {
      operationId: 'getReadyz',
      tags: ['service'],
      summary: 'Check whether the database and the queue answer',
      description: 'The problem names the part that does not.',
      security: [],
      responses: {
        200: { description: 'Ready.', content: { 'application/json': { schema: Health } } },
        [statusOf('not-acceptable')]: problemAnswer(),
        [statusOf('not-ready')]: problemAnswer(),
      },
    },
  },
  '/openapi.json': {
    get: {
      operationId: 'getOpenapi',
      tags: ['service'],
      summary: 'Read this document',
      description: 'It is made from the schemas that requests are checked with.',
      security: [],
      responses: {
        200: {
          description: 'The OpenAPI 3.1 document.',
          content: { 'application/json': { schema: z.looseObject({}) } },
        },
        304: UNCHANGED,
        [statusOf('not-acceptable')]: problemAnswer(),
      },
    },
  },
};

/** Nothing secret, and the same until the next version of this program: minutes are soon enough to see that one. */
const OPEN = { 'cache-control': 'public, max-age=300' };
const PASSING = { 'content-type': 'application/json', 'cache-control': 'no-store' };

export function mountOpen(app: Hono<Env>, deps: Deps, document: object): void {
  const text = JSON.stringify(document);
  const etag = etagOfText(text);
  const ok = JSON.stringify({ status: 'ok' } satisfies z.infer<typeof Health>);
  const page = (c: Context<Env>, body: string) => {
    requireAccepted(c.req.header('accept'), ['text/html']);
    const headers = { 'content-type': HTML, etag: etagOfText(body), ...OPEN, ...INERT };
    return sendText(c, { status: 200, headers, body });
  };
  const well = (c: Context<Env>) => {
    requireAccepted(c.req.header('accept'), ['application/json']);
    return sendText(c, { status: 200, headers: PASSING, body: ok });
  };
  app.get('/healthz', well);
  app.get('/readyz', async (c) => {
    const down = await whatIsDown(deps);
    if (down.length > 0)
      throw new HttpProblem('not-ready', down.join(' '), {
        headers: { 'retry-after': '5' },
      });
    return well(c);
  });
  app.get('/openapi.json', (c) => {
    requireAccepted(c.req.header('accept'), ['application/json']);
    return sendText(c, {
      status: 200,
      headers: { 'content-type': 'application/json', etag, ...OPEN },
      body: text,
    });
  });
  app.get('/problems', (c) => page(c, problemsHtml()));
  app.get('/problems/:kind', (c) => {
    const kind = c.req.param('kind');
    if (!isProblemKind(kind))
      throw new HttpProblem(
        'not-found',
        'There is no such kind of problem. GET /problems lists all of them.',
      );
    return page(c, problemHtml(kind));
  });
}

/** What keeps the server from its work, a sentence for each. */
async function whatIsDown({ database, wake }: Deps): Promise<string[]> {
  const down = await notAnswering({ ...databaseParts(database), queue: () => wake.ready() });
  return down.map((part) => PARTS[part] ?? `${part} does not answer.`);
}

const PARTS: Record<string, string> = {
  database: 'The database does not answer.',
  migrations: 'The database is older than this program: its tables are those of an earlier version.',
  disk: 'The disk of the database is full: reading works, storing does not.',
  queue: 'The queue does not answer.',
};
