import { z } from 'zod';
import {
  acceptQuote,
  changeOrder,
  getOrder,
  listOrders,
  stepOrder,
  type StoredOrder,
} from '../../db/orders.ts';
import { quoteAgain, quoteRest } from '../../db/quoteAgain.ts';
import { listReceipts, receive } from '../../db/receipts.ts';
import { versionOf } from '../../db/version.ts';
import { Code, Day, Name, Note } from '../../worker/engine/model/code.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { MoneyOut } from '../../worker/engine/model/money.ts';
import { ORDER_STATES, OrderLineState, ReceiptIn } from '../../worker/engine/model/order.ts';
import { OrderList } from '../../worker/engine/model/result.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';
import { formOf } from '../http/accept.ts';
import { endpoint, type Endpoint, type Reply } from '../http/endpoint.ts';
import { etagOf } from '../http/etag.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { AS_TABLE, csvFormat, csvFormatOf } from '../tables/ledgerCsv.ts';
import { deliveryIn, DeliveryQuery } from '../tables/ledgerIn.ts';
import { ordersAsCsv, receiptsAsCsv } from '../tables/ledgerLists.ts';
import { asked } from './asked.ts';
import { CSV } from './csv.ts';
import { ORDER_TYPES, orderListFormat, orderListReply } from './orderListReply.ts';
import { QuoteOut } from './present.ts';

const IdParam = z.strictObject({ id: z.uuid() });
const moment = z.iso.datetime();
const State = z.enum(ORDER_STATES).meta({
  id: 'OrderState',
  description:
    'draft: not sent yet. sent: on its way. partReceived and received follow from what came. closed: nothing more is waited for. cancelled: it was given up before anything came.',
});

const headShape = {
  id: z.uuid(),
  number: z.int().meta({ description: 'Counts the orders of the club.' }),
  quote: z.uuid(),
  supplier: Code,
  wave: z.int().optional(),
  state: State,
  asOf: Day.meta({ description: 'The day of the quote, whose prices and rates it has.' }),
  total: MoneyOut,
  supplierNumber: z.string().optional().meta({ description: 'The supplier’s number of the order.' }),
  note: z.string().optional(),
};
const OrderHead = z.strictObject(headShape).meta({ id: 'OrderHead' });
export const OrderOut = z
  .strictObject({
    ...headShape,
    steps: z.array(
      z.strictObject({ state: State, at: moment, who: z.string(), note: z.string().optional() }),
    ),
    lines: z.array(OrderLineState),
    list: OrderList,
  })
  .meta({ id: 'Order', description: 'An order list of an accepted quote, and what came of it.' });

function presentHead(row: StoredOrder['row']): z.infer<typeof OrderHead> {
  return {
    id: row.id,
    number: row.number,
    quote: row.quoteId,
    supplier: row.supplierCode,
    ...(row.list.wave === undefined ? {} : { wave: row.wave }),
    state: row.state,
    asOf: row.asOf,
    total: row.list.total,
    ...(row.supplierNumber === null ? {} : { supplierNumber: row.supplierNumber }),
    ...(row.note === null ? {} : { note: row.note }),
  };
}

export const presentOrder = ({ row, steps, lines }: StoredOrder): z.infer<typeof OrderOut> => ({
  ...presentHead(row),
  steps: steps.map(({ state, at, who, note }) => ({
    state,
    at: at.toISOString(),
    who,
    ...(note === null ? {} : { note }),
  })),
  lines,
  list: row.list,
});

const reply = (status: 200 | 201, order: StoredOrder): Reply => ({
  status,
  body: presentOrder(order),
  headers: { etag: etagOf(versionOf(order.row)) },
});

const AcceptIn = z
  .strictObject({
    suppliers: z
      .array(Code)
      .min(1)
      .max(LIMITS.jobSuppliers)
      .optional()
      .meta({ description: 'Only the order lists of these suppliers. Left out: all of the quote.' }),
    keepUntil: Day.optional().meta({
      description:
        'The last day on which what the quote takes off the shelf is kept for it. Left out: until it is built in or let go.',
    }),
  })
  .meta({ id: 'AcceptRequest' });

const RestIn = z
  .strictObject({
    shutOut: z
      .array(Code)
      .max(LIMITS.jobSuppliers)
      .optional()
      .meta({ description: 'Suppliers that cannot deliver: nothing more is bought from them.' }),
  })
  .meta({ id: 'RestRequest' });

const StepIn = z
  .strictObject({
    to: z.enum(['sent', 'cancelled', 'closed']),
    note: Note.optional(),
    openLines: z.literal('givenUp').optional().meta({
      description: 'To close an order of which something is still to come: it is not waited for any more.',
    }),
  })
  .meta({ id: 'OrderStepRequest' });

const OrderIn = z
  .strictObject({ supplierNumber: Name.optional(), note: Note.optional() })
  .meta({ id: 'OrderRequest', description: 'What is left out is taken away.' });

const ReceiptOut = ReceiptIn.extend({ id: z.uuid(), day: Day, at: moment }).meta({ id: 'Receipt' });

export const orderRoutes: Endpoint[] = [
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/accept',
    tag: 'orders',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Make orders of a quote’s order lists, as they are',
    description:
      'Each order list becomes an order with its prices, breaks and rates as they were. What the quote takes off the shelf is kept for it. Where an offer or the shelf has changed since the quote, nothing is ordered (409), and the answer names the changes. Members order from quotes of their own.',
    params: IdParam,
    body: AcceptIn,
    problems: ['conflict'],
    answers: {
      201: {
        description: 'The orders, as drafts.',
        schema: z.strictObject({ items: z.array(OrderOut) }).meta({ id: 'Orders' }),
      },
    },
    handle: async ({ ctx, params, body }) => ({
      status: 201,
      body: { items: (await acceptQuote({ ctx, input: { ...params, ...body } })).map(presentOrder) },
    }),
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/again',
    tag: 'quotes',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Ask for a quote again, at today’s prices',
    description: 'The same request, with the same revisions of its looms. The old quote stays.',
    params: IdParam,
    problems: ['queue-full', 'conflict'],
    answers: { 202: { description: 'Accepted. Location is the path of the new quote.', schema: QuoteOut } },
    handle: async ({ ctx, params }, deps) => asked(ctx, deps, () => quoteAgain({ ctx, input: params })),
  }),
  endpoint({
    method: 'post',
    path: '/v1/quotes/{id}/rest',
    tag: 'quotes',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Ask for a quote for what is still missing of a quote',
    description:
      'The same request, given what is on the shelf, on its way by the orders of this quote, and cut or built in for it. What is paid already is not counted again. A supplier that cannot deliver is shut out.',
    params: IdParam,
    body: RestIn,
    problems: ['queue-full', 'conflict'],
    answers: { 202: { description: 'Accepted. Location is the path of the new quote.', schema: QuoteOut } },
    handle: async ({ ctx, params, body }, deps) =>
      asked(ctx, deps, () => quoteRest({ ctx, input: { ...params, ...body } })),
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders',
    tag: 'orders',
    role: 'viewer',
    summary: 'List orders, newest first',
    description: AS_TABLE,
    query: PageQuery.extend({
      ...csvFormat,
      state: State.optional().meta({ description: 'Only orders in this state.' }),
      supplier: Code.optional().meta({ description: 'Only orders from this supplier.' }),
      quote: z.uuid().optional().meta({ description: 'Only orders of this quote.' }),
    }),
    answers: {
      200: { description: 'A page.', schema: pageSchema(OrderHead, 'Page_orders'), textTypes: [CSV] },
    },
    problems: ['not-acceptable'],
    instead: ordersAsCsv(presentHead),
    handle: async ({ ctx, query, path }) => {
      const { state, supplier, quote } = query;
      const input = { ...pageInput(query, MADE_ID), state, supplier, quote };
      return pageReply(await listOrders({ ctx, input }), presentHead, path, query);
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders/{id}',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read an order, with where each line stands',
    params: IdParam,
    answers: { 200: { description: 'The order, with its ETag.', schema: OrderOut } },
    handle: async ({ ctx, params }) => reply(200, await getOrder({ ctx, input: params })),
  }),
  endpoint({
    method: 'put',
    path: '/v1/orders/{id}',
    tag: 'orders',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Set the supplier’s number of an order, and your note',
    params: IdParam,
    body: OrderIn,
    ifMatch: true,
    answers: { 200: { description: 'The order, with its ETag.', schema: OrderOut } },
    handle: async ({ ctx, params, body, version }) =>
      reply(200, await changeOrder({ ctx, input: { ...params, ...body, version } })),
  }),
  endpoint({
    method: 'post',
    path: '/v1/orders/{id}/steps',
    tag: 'orders',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Say that an order was sent, cancelled or closed',
    params: IdParam,
    body: StepIn,
    problems: ['conflict'],
    answers: { 201: { description: 'The order.', schema: OrderOut } },
    handle: async ({ ctx, params, body }) =>
      reply(201, await stepOrder({ ctx, input: { ...params, ...body } })),
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders/{id}/list',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read the order list of an order, as JSON, as CSV, or as a page to print',
    params: IdParam,
    query: z.strictObject(orderListFormat),
    problems: ['not-acceptable'],
    answers: {
      200: { description: 'The order list.', schema: OrderList, textTypes: ['text/csv', 'text/html'] },
    },
    handle: async ({ ctx, params, query, header }) => {
      const { row } = await getOrder({ ctx, input: params });
      const { list, asOf, number } = row;
      return orderListReply(
        { list, asOf },
        `order-${number}`,
        formOf(header('accept'), query.format, ORDER_TYPES),
      );
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/orders/{id}/receipts',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read what came of an order, delivery by delivery',
    description: AS_TABLE,
    params: IdParam,
    query: z.strictObject(csvFormatOf('a delivery')),
    answers: {
      200: {
        description: 'The deliveries, the first first.',
        schema: z.strictObject({ items: z.array(ReceiptOut) }).meta({ id: 'Receipts' }),
        textTypes: [CSV],
      },
    },
    problems: ['not-acceptable'],
    instead: receiptsAsCsv,
    handle: async ({ ctx, params }) => ({
      status: 200,
      body: {
        items: (await listReceipts({ ctx, input: params })).map(({ id, body, madeAt }) => ({
          id,
          ...body,
          at: madeAt.toISOString(),
        })),
      },
    }),
  }),
  endpoint({
    method: 'post',
    path: '/v1/orders/{id}/receipts',
    tag: 'orders',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Enter what came with a delivery',
    description:
      'What is right goes on the shelf as stock. What is faulty or wrong is still to come, until a delivery says that it will not. More than was ordered is refused unless you say that it is so.\n\nIt can be sent as a table too, with one row a line: `GET /v1/orders/{id}/receipts?format=template` gives the empty table. Nothing is entered while there is any fault.',
    params: IdParam,
    query: DeliveryQuery,
    body: ReceiptIn,
    table: true,
    problems: ['conflict'],
    answers: {
      201: {
        description: 'The order as it is now, and what lies on the shelf of it.',
        schema: z.strictObject({ order: OrderOut, shelved: z.array(StockItem) }).meta({ id: 'ReceiptDone' }),
      },
    },
    handle: async ({ ctx, params, ...sent }) => {
      const receipt = await deliveryIn(ctx, { ...params, ...sent });
      const { order, shelved } = await receive({ ctx, input: { ...params, receipt } });
      return { status: 201, body: { order: presentOrder(order), shelved } };
    },
  }),
];
