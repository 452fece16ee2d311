import { z } from 'zod';
import { releaseStock } from '../../db/keepForQuote.ts';
import { listReservations } from '../../db/reservations.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { KeptStock, Reservation } from '../../worker/engine/model/reservation.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';

export const reservationRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/stock-reservations',
    tag: 'stock',
    role: 'viewer',
    summary: 'List what is kept on the shelf for accepted quotes, newest first',
    query: PageQuery.extend({
      stock: Code.optional().meta({ description: 'Only what is kept of this stock item.' }),
      quote: z.uuid().optional().meta({
        description: 'Only what is kept for this quote and those for its rest.',
      }),
    }),
    answers: { 200: { description: 'A page.', schema: pageSchema(Reservation, 'Page_reservations') } },
    handle: async ({ ctx, query, path }) => {
      const { stock, quote } = query;
      const input = { ...pageInput(query, MADE_ID), stock, quote };
      return pageReply(await listReservations({ ctx, input }), (one) => one, path, query);
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/release',
    tag: 'quotes',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Let go of what is kept on the shelf for a quote',
    description:
      'For when its looms are made or given up. Nor is anything kept of what still comes for it. Accepting a quote for its rest keeps again.',
    params: z.strictObject({ id: z.uuid() }),
    answers: {
      200: {
        description: 'What was let go.',
        schema: z.strictObject({ items: z.array(KeptStock) }).meta({ id: 'LetGo' }),
      },
    },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: { items: await releaseStock({ ctx, input: params }) },
    }),
  }),
];
