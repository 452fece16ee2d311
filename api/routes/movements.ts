import { z } from 'zod';
import { listMovements, moveStock, requireLedger } from '../../db/movements.ts';
import { stockValue } from '../../db/stockValue.ts';
import { Code } from '../../worker/engine/model/code.ts';
import { MoneyOut } from '../../worker/engine/model/money.ts';
import { Movement, MOVEMENT_KINDS, MovementIn } from '../../worker/engine/model/movement.ts';
import { StockItem } from '../../worker/engine/model/stock.ts';
import { endpoint, type Endpoint } from '../http/endpoint.ts';
import { MADE_ID, pageInput, PageQuery, pageReply, pageSchema } from '../http/paging.ts';
import { AS_TABLE, csvFormatOf } from '../tables/ledgerCsv.ts';
import { movedByTable } from '../tables/ledgerIn.ts';
import { movementsAsCsv } from '../tables/ledgerLists.ts';
import { TableReading } from '../tables/rowsOf.ts';
import { CSV } from './csv.ts';

const CodeParam = z.strictObject({ code: Code });
const kind = z.enum(MOVEMENT_KINDS).optional().meta({ description: 'Only movements of this kind.' });

export const MovedOut = z
  .strictObject({
    movement: Movement,
    item: StockItem,
    offcut: StockItem.optional().meta({
      description: 'The stock item that what was left of a cut length became or went to.',
    }),
    droppedMm: z.int().optional().meta({
      description:
        'What was left of a cut length and is not kept: it is shorter than the setting offcutMinimumMm.',
    }),
    letGo: z.int().optional().meta({
      description: 'How many of it were kept for quotes and are not there any more.',
    }),
  })
  .meta({ id: 'MovementDone' });

const StockValueOut = z
  .strictObject({
    total: MoneyOut.meta({ description: 'Of all items, in the club’s currency.' }),
    items: z.array(
      z.strictObject({
        stock: Code,
        part: Code,
        count: z.int(),
        worth: MoneyOut.optional().meta({ description: 'Absent where nobody knows.' }),
      }),
    ),
    next: z.union([z.string(), z.null()]),
  })
  .meta({ id: 'StockValue' });

export const movementRoutes: Endpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/stock-movements',
    tag: 'stock',
    role: 'viewer',
    summary: 'List what happened on the shelf, newest first',
    description: AS_TABLE,
    query: PageQuery.extend({
      ...csvFormatOf('movements'),
      stock: Code.optional().meta({ description: 'Only movements of this stock item.' }),
      kind,
    }),
    answers: {
      200: { description: 'A page.', schema: pageSchema(Movement, 'Page_movements'), textTypes: [CSV] },
    },
    problems: ['not-acceptable'],
    instead: movementsAsCsv,
    handle: async ({ ctx, query, path }) => {
      const input = { ...pageInput(query, MADE_ID), stock: query.stock, kind: query.kind };
      return pageReply(await listMovements({ ctx, input }), (movement) => movement, path, query);
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/stock-movements',
    tag: 'stock',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Say by a table what happened on the shelf',
    description:
      'One row a movement, in the order in which they happened: `GET /v1/stock-movements?format=template` gives the empty table. Nothing is stored while there is any fault.',
    query: TableReading,
    table: true,
    answers: {
      201: {
        description: 'The movements, each with what became of its item.',
        schema: z.strictObject({ items: z.array(MovedOut) }).meta({ id: 'MovementsDone' }),
      },
    },
    handle: async ({ ctx, table, query }) => ({
      status: 201,
      body: { items: table ? await movedByTable(ctx, { table, query }) : [] },
    }),
  }),
  endpoint({
    method: 'get',
    path: '/v1/stock-value',
    tag: 'stock',
    role: 'viewer',
    summary: 'Read what was paid for what lies on the shelf',
    description:
      'By the goods of the orders with which it came, without postage and duty. What is taken takes its share.',
    query: PageQuery,
    answers: {
      200: { description: 'The value of all, and a page of the items by code.', schema: StockValueOut },
    },
    handle: async ({ ctx, query, path }) => {
      const { total, page } = await stockValue({ ctx, input: pageInput(query) });
      const reply = pageReply(page, ({ worth, ...item }) => (worth ? { ...item, worth } : item), path, query);
      return { ...reply, body: { total, ...(reply.body as object) } };
    },
  }),
  endpoint({
    method: 'get',
    path: '/v1/stock/{code}/movements',
    tag: 'stock',
    role: 'viewer',
    summary: 'List what happened to a stock item, newest first',
    description: 'Also of one that was removed.',
    params: CodeParam,
    query: PageQuery.extend({ kind }),
    answers: { 200: { description: 'A page.', schema: pageSchema(Movement, 'Page_movementsOfStock') } },
    handle: async ({ ctx, params, query, path }) => {
      await requireLedger({ ctx, input: params });
      const input = { ...pageInput(query, MADE_ID), stock: params.code, kind: query.kind };
      return pageReply(await listMovements({ ctx, input }), (movement) => movement, path, query);
    },
  }),
  endpoint({
    method: 'post',
    path: '/v1/stock/{code}/movements',
    tag: 'stock',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Say what happened to a stock item',
    description:
      'Every movement is kept, and the count of the item follows from them. Of a length that is cut, what is left becomes a stock item of its own, if it is long enough to keep.',
    params: CodeParam,
    body: MovementIn,
    answers: { 201: { description: 'The movement, with what became of the item.', schema: MovedOut } },
    handle: async ({ ctx, params, body }) => ({
      status: 201,
      body: await moveStock({ ctx, input: { code: params.code, asked: body } }),
    }),
  }),
];
