import { z } from 'zod';
import type { Ctx } from '../../db/club.ts';
import { createQuote, getQuote, getQuoteText, listQuotes, QUOTE_SORTS } from '../../db/quotes.ts';
import { setQuoteSeenBy } from '../../db/seenBy.ts';
import { TASK_STATES } from '../../db/tasks.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { Job, QuoteRequest } from '../../worker/engine/model/job.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { OrderList, Result } from '../../worker/engine/model/result.ts';
import { readResult } from '../../worker/engine/model/upgrade.ts';
import { orderName } from '../../worker/sheets/orderSums.ts';
import { fullHtml, quoteHtml } from '../../worker/sheets/quoteHtml.ts';
import { fullText, quoteText } from '../../worker/sheets/quoteText.ts';
import { formOf } from '../http/accept.ts';
import { cachingHeaders } from '../http/caching.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { HTML, INERT } from '../http/html.ts';
import { namesInRequest } from '../http/names.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema, sortQuery } from '../http/paging.ts';
import { HttpProblem } from '../http/problem.ts';
import { varies } from '../http/send.ts';
import { asked } from './asked.ts';
import { ORDER_TYPES, orderListFormat, orderListReply } from './orderListReply.ts';
import { ownerQuery, SeenByIn, SeenByQuery } from './people.ts';
import { presentQuote, QuoteOut } from './present.ts';

const IdParam = z.strictObject({ id: z.uuid() });
const OrderParam = z.strictObject({ id: z.uuid(), supplier: Code });
const OrderListQuery = z.strictObject({
  ...orderListFormat,
  wave: z.coerce
    .number()
    .int()
    .min(1)
    .max(LIMITS.waves)
    .optional()
    .meta({ description: 'The number of the order, if there are several. Left out: the first one.' }),
});
const ResultQuery = z.strictObject({
  format: z.enum(['json', 'html', 'text']).optional().meta({
    description:
      'json; html (a page to print); or text (the same as plain text). Left out: as the Accept header asks, or else json.',
  }),
  full: z
    .enum(['true', 'false'])
    .optional()
    .meta({ description: 'For html and text. true: with the appendix.' }),
});
const TEXT = 'text/plain; charset=utf-8';
const RESULT_TYPES = { json: 'application/json', html: 'text/html', text: 'text/plain' } as const;

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
    query: PageQuery.extend({
      ...sortQuery(QUOTE_SORTS),
      state: z.enum(TASK_STATES).optional().meta({ description: 'Only quotes whose task is so.' }),
      ...ownerQuery,
    }),
    answers: { 200: { description: 'A page.', schema: pageSchema(QuoteOut, 'Page_quotes') } },
    handle: async ({ ctx, query, path }) =>
      pageReply(
        await listQuotes({
          ctx,
          input: { ...pageInput(query, MADE_ID), state: query.state, owner: query.owner },
        }),
        presentQuote,
        path,
        query,
      ),
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes',
    tag: 'quotes',
    role: 'member',
    summary: 'Ask for a quote',
    description:
      'The answer is 202 at once, and a task does the work. Clubs take turns, so that no club waits for all the quotes of another. Only so many tasks of a club can wait; more are refused with 429. The quote uses the revision of each loom that the request names, or else the latest.',
    query: SeenByQuery,
    body: QuoteRequest,
    names: namesInRequest,
    answers: { 202: { description: 'Accepted. Location is the path of the quote.', schema: QuoteOut } },
    problems: ['queue-full'],
    handle: async ({ ctx, query, body }, deps) =>
      asked(ctx, deps, () => createQuote({ ctx, input: body, ...query })),
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
    method: 'put',
    path: '/v1/quotes/{id}/seen-by',
    tag: 'quotes',
    role: 'member',
    roleForOthers: 'nobody',
    summary: 'Say who sees a quote of your own',
    description:
      'Only its owner can say so; its task and its winning prices go with it. A quote of a loom that you alone see cannot be shown: 409.',
    params: IdParam,
    body: SeenByIn,
    problems: ['conflict'],
    answers: { 200: { description: 'Who sees it now.', schema: SeenByIn } },
    handle: async ({ ctx, params, body }) => {
      await setQuoteSeenBy({ ctx, input: { ...params, ...body } });
      return { status: 200, body };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/result',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read a quote’s result, as JSON, as a page to print, or as text',
    description:
      'As JSON it is the stored result; as html and text it is the quote as it is printed. It can be read as soon as the quote is ready; until then the answer is 409. While close alternatives are being worked out, `besideState` is `working`; the ETag changes when they are ready. A quote that was not proven can then become cheaper. For the same job the price command gives the same result, byte for byte, except for what is not proven or is named in `timeLimited`.',
    params: IdParam,
    query: ResultQuery,
    answers: {
      200: { description: 'The result.', schema: Result, textTypes: ['text/html', 'text/plain'] },
    },
    problems: ['conflict', 'not-acceptable'],
    handle: async ({ ctx, params, query, header }) => {
      const stored = await getQuoteText({ ctx, input: { ...params, which: 'result' } });
      const format = formOf(header('accept'), query.format, RESULT_TYPES);
      const text = printed(stored, format, query.full === 'true');
      // Pages and texts are written anew by each version of this program.
      const caching = format === 'json' && isWhole(stored) ? 'forever' : 'checked';
      return {
        status: 200,
        text,
        headers: { ...varies(cachingHeaders(caching), 'accept'), ...(format === 'html' ? INERT : {}) },
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/job',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read the job of a quote',
    description: 'A job file. The price command can work it without a server.',
    params: IdParam,
    cache: 'checked',
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
    summary: 'Read the order lists of a quote, one for each supplier and order',
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
    summary: 'Read the order list of one supplier, as JSON, as CSV, or as a page to print',
    params: OrderParam,
    query: OrderListQuery,
    answers: {
      200: { description: 'The order list.', schema: OrderList, textTypes: ['text/csv', 'text/html'] },
    },
    problems: ['conflict', 'not-acceptable'],
    handle: async ({ ctx, params, query, header }) => {
      const { orderLists, asOf } = await resultOf(ctx, params.id);
      const { wave } = query;
      const list = orderLists.find(
        (item) => item.supplier === params.supplier && (wave === undefined || (item.wave ?? 1) === wave),
      );
      if (!list)
        throw new HttpProblem(
          'not-found',
          `The quote orders nothing from ${params.supplier}${wave === undefined ? '' : ` with order ${wave}`}.`,
        );
      const format = formOf(header('accept'), query.format, ORDER_TYPES);
      return orderListReply({ list, asOf }, orderName(list), format);
    },
  }),
];

/** Whether nothing is worked on any more that a stored result will be given. */
function isWhole(stored: string): boolean {
  // Within a text of JSON a quote is escaped, so that no text that people typed reads like this.
  return !/"(besideState|buildOrBuyState)"\s*:\s*"working"/.test(stored);
}

const REST =
  'Sums, settings, all that was found, other ways to buy and the proof: ask for it with full=true.';

/** A stored result in one of its forms. */
function printed(stored: string, format: 'json' | 'html' | 'text', full: boolean) {
  if (format === 'json') return { type: 'application/json', content: stored };
  const result = readResult(JSON.parse(stored));
  return format === 'html'
    ? { type: HTML, content: full ? fullHtml(result) : quoteHtml(result) }
    : { type: TEXT, content: full ? fullText(result) : quoteText(result, REST) };
}
