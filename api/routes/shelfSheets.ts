import { z } from 'zod';
import { asClub } from '../../db/club.ts';
import { getOrder, type StoredOrder } from '../../db/orders.ts';
import { listShelf } from '../../db/shelfList.ts';
import { Code, Name } from '../../worker/engine/model/code.ts';
import { goodsInSheet, type OrderOnItsWay } from '../../worker/sheets/shelf/goodsIn.ts';
import { goodsInCsv } from '../../worker/sheets/shelf/goodsInCsv.ts';
import { stockLabelSheet } from '../../worker/sheets/shelf/stockLabels.ts';
import { stockListSheet } from '../../worker/sheets/shelf/stockList.ts';
import { formOf } from '../http/accept.ts';
import { rawEndpoint, type RawEndpoint } from '../http/endpoint.ts';
import { labelsOf, printQuery } from './labelQuery.ts';
import { ownerQuery } from './people.ts';
import { SHELF_TYPES, shelfSheetReply } from './shelfSheetReply.ts';

const { paper } = printQuery;
const { html, pdf } = SHELF_TYPES;
const pageFormat = {
  format: z.enum(['html', 'pdf']).optional().meta({
    description: 'html (a page to print) or pdf. Left out: as the Accept header asks, or else html.',
  }),
};
const place = Name.optional().meta({ description: 'Only what lies at this place, written as it is there.' });
const part = Code.optional().meta({ description: 'Only items of this part.' });
const answersOf = (what: string, textTypes: string[] = [html]) => ({
  200: { description: what, textTypes, bytesType: pdf },
  304: { description: 'You have it already: If-None-Match names its ETag.' },
});
const FEW_PDFS = 'Only a few PDFs are made at once; more are refused with 429.';
const MOST_LABELS_NAMED = 500;
const dayOf = (moment: Date) => moment.toISOString().slice(0, 10);

function onItsWay({ row, steps, lines }: StoredOrder, now: Date): OrderOnItsWay {
  const sent = steps.find(({ state }) => state === 'sent');
  return {
    number: row.number,
    state: row.state,
    list: row.list,
    lines,
    supplierNumber: row.supplierNumber ?? undefined,
    note: row.note ?? undefined,
    sentOn: sent && dayOf(sent.at),
    day: dayOf(now),
  };
}

export const shelfSheetRoutes: RawEndpoint[] = [
  rawEndpoint({
    method: 'get',
    path: '/v1/orders/{id}/goods-in',
    tag: 'orders',
    role: 'viewer',
    summary: 'Read the list to take to the bench when a parcel is opened: a page to print, PDF or CSV',
    description: `Each line with what was ordered, what came so far and what is still to come, and boxes for what came, what is faulty, what is wrong, and where it is put. ${FEW_PDFS}`,
    params: z.strictObject({ id: z.uuid() }),
    query: z.strictObject({
      format: z.enum(['html', 'pdf', 'csv']).optional().meta({
        description: 'html (a page to print), pdf or csv. Left out: as the Accept header asks, or else html.',
      }),
      paper,
    }),
    cache: 'checked',
    answers: answersOf('The list.', [html, SHELF_TYPES.csv]),
    problems: ['not-acceptable', 'too-many', 'out-of-time'],
    raw: async (c, { ctx, params, query }, deps) => {
      const format = formOf(c.req.header('accept'), query.format, SHELF_TYPES);
      const stored = await asClub(deps.database, ctx, (ctx) => getOrder({ ctx, input: params }), {
        snapshot: true,
      });
      const order = onItsWay(stored, ctx.now());
      return shelfSheetReply(
        c,
        {
          club: ctx.club,
          sheet: goodsInSheet(order),
          format,
          paper: query.paper,
          name: `goods-in-${order.number}`,
          csv: () => goodsInCsv(order),
        },
        deps,
      );
    },
  }),
  rawEndpoint({
    method: 'get',
    path: '/v1/stock-list',
    tag: 'stock',
    role: 'viewer',
    summary: 'Read what lies on the shelf as a list to count by: a page to print, or PDF',
    description: `By place, with a box for each item; then what there is of each part. Items with the count 0 are left out. ${FEW_PDFS}`,
    query: z.strictObject({ ...pageFormat, paper, place, part, ...ownerQuery }),
    cache: 'checked',
    answers: answersOf('The list.'),
    problems: ['not-acceptable', 'too-many', 'out-of-time'],
    raw: async (c, { ctx, query }, deps) => {
      const { place, part, owner } = query;
      const format = formOf(c.req.header('accept'), query.format, { html, pdf });
      const all = await asClub(deps.database, ctx, (ctx) =>
        listShelf({ ctx, input: { place, part, owner } }),
      );
      const only = [
        ...(place === undefined ? [] : [`the place ${place}`]),
        ...(part === undefined ? [] : [`the part ${part}`]),
        ...(owner === undefined ? [] : [`what is ${all[0]?.item.owner ?? 'one member'}’s`]),
      ];
      const sheet = stockListSheet(all, { only, day: dayOf(ctx.now()) });
      const print = { club: ctx.club, sheet, format, paper: query.paper, name: 'stock-list' };
      return shelfSheetReply(c, print, deps);
    },
  }),
  rawEndpoint({
    method: 'get',
    path: '/v1/stock-labels',
    tag: 'stock',
    role: 'viewer',
    summary: 'Read labels for drawers and lengths, one for each stock item: a page to print, or PDF',
    description: `Of the items that are named, or of all that lie on the shelf and of empty drawers. ${FEW_PDFS}`,
    query: z.strictObject({
      ...pageFormat,
      ...printQuery,
      stock: z.array(Code).max(MOST_LABELS_NAMED).optional().meta({
        description:
          'A stock item to label; state it once for each. Left out: all. One that is named has a label also where its count is 0.',
      }),
      place,
      part,
    }),
    repeated: ['stock'],
    cache: 'checked',
    answers: answersOf('The labels.'),
    problems: ['not-acceptable', 'too-many', 'out-of-time'],
    raw: async (c, { ctx, query }, deps) => {
      const { stock: codes, place, part } = query;
      const format = formOf(c.req.header('accept'), query.format, { html, pdf });
      const layout = labelsOf(query, query.paper ?? 'a4');
      const all = await asClub(deps.database, ctx, (ctx) =>
        listShelf({ ctx, input: { codes, place, part, drawers: true } }),
      );
      const sheet = stockLabelSheet(all, { layout, day: dayOf(ctx.now()) });
      const print = { club: ctx.club, sheet, format, paper: query.paper, name: 'stock-labels' };
      return shelfSheetReply(c, print, deps);
    },
  }),
];
