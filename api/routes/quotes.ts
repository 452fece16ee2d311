import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import { createQuote, getQuote, getQuoteText, listQuotes } from '../../db/quotes.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { Job, QuoteRequest } from '../../worker/engine/model/job.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { OrderList, Result } from '../../worker/engine/model/result.ts';
import { readResult } from '../../worker/engine/model/upgrade.ts';
import { orderName } from '../../worker/sheets/orderSums.ts';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { namesInRequest } from '../http/names.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { HttpProblem } from '../http/problem.ts';
import { wakeFor } from '../http/wakeFor.ts';
import { presentQuote, QuoteOut } from './present.ts';

const IdParam = z.strictObject({ id: z.uuid() });
const OrderParam = z.strictObject({ id: z.uuid(), supplier: Code });
const OrderListQuery = z.strictObject({
  format: z
    .enum(['json', 'csv', 'html'])
    .optional()
    .meta({ description: 'html: a page to print. json unless stated here or asked for in Accept.' }),
  wave: z.coerce
    .number()
    .int()
    .min(1)
    .max(LIMITS.waves)
    .optional()
    .meta({ description: 'With which order, where there are several; the first one unless stated.' }),
});
const CSV = 'text/csv; charset=utf-8';
const HTML = 'text/html; charset=utf-8';

async function resultOf(ctx: Ctx, id: string): Promise<Result> {
  return readResult(JSON.parse(await getQuoteText({ ctx, input: { id, which: 'result' } })));
}

export const quoteRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/quotes',
    tag: 'quotes',
    role: 'viewer',
    summary: 'List quotes, newest first',
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(QuoteOut, 'Page_quotes') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(await listQuotes({ ctx, input: pageInput(query, MADE_ID) }), presentQuote, path, query),
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes',
    tag: 'quotes',
    role: 'member',
    summary: 'Ask for a quote',
    description:
      'Answered at once with 202; the work is a task. Each loom is pinned to a revision, its latest unless one is named.',
    body: QuoteRequest,
    names: namesInRequest,
    answers: { 202: { description: 'Taken in; Location names the quote.', schema: QuoteOut } },
    handle: async ({ ctx, body }, deps) => {
      const stored = await createQuote({ ctx, input: body });
      return {
        status: 202,
        body: presentQuote(stored),
        headers: { location: `/v1/quotes/${stored.quote.id}` },
        after: wakeFor(deps, stored.task),
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read a quote',
    params: IdParam,
    answers: { 200: { description: 'The quote.', schema: QuoteOut } },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: presentQuote(await getQuote({ ctx, input: params })),
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/result',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read a quote’s result',
    description:
      'The stored bytes. It can be read as soon as the quote is there; `besideState` is `working` while what lies beside the cheapest is worked, and the ETag changes when that is there. A quote that was not proven may come out cheaper then. What is proven and not named in `timeLimited` is the same bytes here and from the price command for the same job. 409 until it is there.',
    params: IdParam,
    answers: { 200: { description: 'The result.', schema: Result } },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => {
      const content = await getQuoteText({ ctx, input: { ...params, which: 'result' } });
      return {
        status: 200,
        text: { type: 'application/json', content },
        headers: { etag: `"${createHash('sha256').update(content).digest('base64url')}"` },
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/job',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read the job that a quote was worked from',
    description: 'A job file: the price command works it without a server.',
    params: IdParam,
    answers: { 200: { description: 'The job.', schema: Job } },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => ({
      status: 200,
      text: {
        type: 'application/json',
        content: await getQuoteText({ ctx, input: { ...params, which: 'job' } }),
      },
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/order-lists',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read a quote’s order lists, one a supplier and order',
    params: IdParam,
    answers: {
      200: {
        description: 'The order lists.',
        schema: z.strictObject({ items: z.array(OrderList) }).meta({ id: 'OrderLists' }),
      },
    },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: { items: (await resultOf(ctx, params.id)).orderLists },
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/order-lists/{supplier}',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read one supplier’s order list, as JSON, as CSV, or as a page to print',
    params: OrderParam,
    query: OrderListQuery,
    answers: {
      200: { description: 'The order list.', schema: OrderList, textTypes: ['text/csv', 'text/html'] },
    },
    problems: ['conflict'],
    handle: async ({ ctx, params, query, header }) => {
      const { orderLists, asOf, cautions } = await resultOf(ctx, params.id);
      const { wave } = query;
      const list = orderLists.find(
        (item) => item.supplier === params.supplier && (wave === undefined || (item.wave ?? 1) === wave),
      );
      if (!list)
        throw new HttpProblem(
          'not-found',
          `The quote orders nothing from ${params.supplier}${wave === undefined ? '' : ` with order ${wave}`}.`,
        );
      const format = query.format ?? formatOf(header('accept') ?? '');
      const vary = { vary: 'accept' };
      if (format === 'json') return { status: 200, body: list, headers: vary };
      if (format === 'html')
        return {
          status: 200,
          text: { type: HTML, content: orderListHtml({ list, asOf, cautions }) },
          // The page is made of what people typed: it runs nothing and loads nothing.
          headers: { ...vary, 'content-security-policy': "default-src 'none'; style-src 'unsafe-inline'" },
        };
      return {
        status: 200,
        text: { type: CSV, content: orderListCsv(list) },
        headers: {
          ...vary,
          'content-disposition': `attachment; filename="${orderName(list)}.csv"`,
        },
      };
    },
  }),
];

/** The form that a reader asks for first; JSON where it asks for none of ours. */
function formatOf(accept: string): 'json' | 'csv' | 'html' {
  if (/^\s*text\/csv\b/.test(accept)) return 'csv';
  return /^\s*text\/html\b/.test(accept) ? 'html' : 'json';
}
