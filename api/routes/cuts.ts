import { z } from 'zod';
import { cutByPlan, readCuts } from '../../db/cutPlan.ts';
import { CutEntry, CutsIn } from '../../worker/engine/model/cutEntry.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MovedOut } from './movements.ts';

const IdParam = z.strictObject({ id: z.uuid() });

export const cutRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/cuts',
    tag: 'quotes',
    role: 'viewer',
    summary:
      'Read the cutting plan of a quote, with what is cut already and out of which length the rest comes',
    params: IdParam,
    problems: ['conflict'],
    answers: {
      200: {
        description: 'The entries that cut something.',
        schema: z.strictObject({ items: z.array(CutEntry) }).meta({ id: 'Cuts' }),
      },
    },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: { items: await readCuts({ ctx, input: params }) },
    }),
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/cuts',
    tag: 'quotes',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Say that entries of the cutting plan are cut, or all that can be',
    description:
      'Each length that is cut leaves the shelf, and what is left of it goes back there as a stock item of its true length, if it is long enough to keep.',
    params: IdParam,
    body: CutsIn,
    problems: ['conflict'],
    answers: {
      201: {
        description: 'What was cut.',
        schema: z
          .strictObject({
            items: z.array(
              z.strictObject({ requirement: z.string(), entry: z.int(), cuts: z.array(MovedOut) }),
            ),
          })
          .meta({ id: 'CutsDone' }),
      },
    },
    handle: async ({ ctx, params, body }) => ({
      status: 201,
      body: { items: await cutByPlan({ ctx, input: { ...params, ...body } }) },
    }),
  }),
];
