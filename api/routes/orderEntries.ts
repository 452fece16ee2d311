import { z } from 'zod';
import {
  chargeOrder,
  costOfOrder,
  listOrderEntries,
  refundOrder,
  returnGoods,
} from '../../db/orderEntries.ts';
import type { StoredOrder } from '../../db/orders.ts';
import { OrderCost } from '../../worker/engine/model/order.ts';
import { ChargesIn, RefundIn, ReturnIn, STORED_ENTRIES } from '../../worker/engine/model/orderEntry.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { OrderOut, presentOrder } from './orders.ts';

const IdParam = z.strictObject({ id: z.uuid() });
const told = { id: z.uuid(), at: z.iso.datetime() };
const [Return, Refund, Charges] = STORED_ENTRIES;
const EntryOut = z
  .discriminatedUnion('kind', [Return.extend(told), Refund.extend(told), Charges.extend(told)])
  .meta({ id: 'OrderEntry', description: 'What was said of an order in addition to its deliveries.' });

const done = (order: StoredOrder): Reply => ({ status: 201, body: presentOrder(order) });
const common = {
  method: 'post' as const,
  tag: 'orders' as const,
  role: 'member' as const,
  roleForOthers: 'editor' as const,
  params: IdParam,
  problems: ['conflict' as const],
  answers: { 201: { description: 'The order.', schema: OrderOut } },
};

export const orderEntryRoutes: Endpoint[] = [
  endpoint({
    ...common,
    path: '/v1/orders/{id}/returns',
    summary: 'Say that goods go back to the supplier',
    description:
      'What is right leaves the shelf, whole packs, kits and lengths only. Wire that you cut does not go back; wire by the metre only if the supplier agrees.',
    body: ReturnIn,
    handle: async ({ ctx, params, body }) =>
      done(await returnGoods({ ctx, input: { ...params, goods: body } })),
  }),
  endpoint({
    ...common,
    path: '/v1/orders/{id}/refunds',
    summary: 'Enter what the supplier paid back',
    body: RefundIn,
    handle: async ({ ctx, params, body }) =>
      done(await refundOrder({ ctx, input: { ...params, refund: body } })),
  }),
  endpoint({
    ...common,
    path: '/v1/orders/{id}/charges',
    summary: 'Enter the postage, duty and fees that were really charged',
    body: ChargesIn,
    handle: async ({ ctx, params, body }) =>
      done(await chargeOrder({ ctx, input: { ...params, charges: body } })),
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders/{id}/entries',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read the returns, refunds and charges of an order',
    params: IdParam,
    answers: {
      200: {
        description: 'The first first.',
        schema: z.strictObject({ items: z.array(EntryOut) }).meta({ id: 'OrderEntries' }),
      },
    },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: {
        items: (await listOrderEntries({ ctx, input: params })).map(({ id, body, madeAt }) => ({
          ...body,
          id,
          at: madeAt.toISOString(),
        })),
      },
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders/{id}/cost',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read what an order cost against what the quote said',
    params: IdParam,
    answers: { 200: { description: 'The cost, by line and in whole.', schema: OrderCost } },
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: await costOfOrder({ ctx, input: params }),
    }),
  }),
];
