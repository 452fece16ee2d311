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
  .strictObject({ offer: Code.meta({ description: 'An offer that the quote’s job has.' }) })
  .meta({ id: 'WinningPriceRequest' });

export const winningPriceRoutes: Endpoint[] = [
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/winning-prices',
    tag: 'quotes',
    role: 'member',
    summary: 'Ask at which price an offer of a quote is bought',
    description:
      'Answered at once with 202; the work is a task of its own, on the job that the quote was worked from. What was asked before is not worked again, unless its task failed or was cancelled. 409 until the quote is there, and for an offer that its job does not have.',
    params: QuoteParam,
    body: Asked,
    answers: {
      202: { description: 'Taken in; Location names where the answer will be.', schema: WinningPriceOut },
    },
    handle: async ({ ctx, params, body }, deps) => {
      const stored = await askWinningPrice({ ctx, input: { quote: params.id, offer: body.offer } });
      return {
        status: 202,
        body: presentWinningPrice(stored),
        headers: { location: `/v1/quotes/${params.id}/winning-prices/${body.offer}` },
        ...(stored.task.state === 'queued' ? { after: wakeFor(deps, stored.task) } : {}),
      };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/winning-prices',
    tag: 'quotes',
    role: 'viewer',
    summary: 'List the offers of a quote whose winning price was asked for, by code',
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
    summary: 'Read at which price an offer of a quote is bought',
    params: OfferParam,
    answers: {
      200: { description: 'What was asked; with the answer once it is done.', schema: WinningPriceOut },
    },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: presentWinningPrice(
        await getWinningPrice({ ctx, input: { quote: params.id, offer: params.offer } }),
      ),
    }),
  }),
];
