import { z } from 'zod';
import { askWinningPrice, getWinningPrice, listWinningPrices } from '../../db/winningPrices.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { wakeFor } from '../http/wakeFor.ts';
import { presentWinningPrice, WinningPriceOut } from './present.ts';

const QuoteParam = z.strictObject({ id: z.uuid() });
const OfferParam = z.strictObject({ id: z.uuid(), offer: Code });
const Asked = z
  .strictObject({ offer: Code.meta({ description: 'The code of an offer in the quote’s job.' }) })
  .meta({ id: 'WinningPriceRequest' });

export const winningPriceRoutes: Endpoint[] = [
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/winning-prices',
    tag: 'quotes',
    role: 'member',
    summary: 'Ask for the winning price of an offer',
    description:
      'The winning price is the price at which the quote buys the offer. The answer is 202 at once, and a task does the work, on the job of the quote. If you ask again, the work is not repeated, unless its task failed or was cancelled. 409 until the quote is ready, and if its job does not have the offer.',
    params: QuoteParam,
    body: Asked,
    answers: {
      202: { description: 'Accepted. Location is the path of the answer.', schema: WinningPriceOut },
    },
    problems: ['queue-full'],
    handle: async ({ ctx, params, body }, deps) => {
      const mostWaiting = deps.limits.queuePerClub;
      const stored = await askWinningPrice({
        ctx,
        input: { quote: params.id, offer: body.offer, mostWaiting },
      });
      return {
        status: 202,
        body: presentWinningPrice(stored),
        headers: { location: `/v1/quotes/${params.id}/winning-prices/${body.offer}` },
        ...(stored.task.state === 'queued' ? { after: wakeFor(deps, stored.task, ctx) } : {}),
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/winning-prices',
    tag: 'quotes',
    role: 'viewer',
    summary: 'List the winning prices that were asked for, by code of the offer',
    params: QuoteParam,
    query: PageQuery,
    answers: { 200: { description: 'A page.', schema: pageSchema(WinningPriceOut, 'Page_winningPrices') } },
    handle: async ({ ctx, params, query, path }) =>
      pageReply(
        await listWinningPrices({ ctx, input: { quote: params.id, ...pageInput(query) } }),
        presentWinningPrice,
        path,
        query,
      ),
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/winning-prices/{offer}',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read the winning price of an offer',
    params: OfferParam,
    answers: {
      200: { description: 'What was asked, with the answer when the task is done.', schema: WinningPriceOut },
    },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: presentWinningPrice(
        await getWinningPrice({ ctx, input: { quote: params.id, offer: params.offer } }),
      ),
    }),
  }),
];
