import { z } from 'zod';
import { asClub } from '../../db/club.ts';
import { getOrder, type StoredOrder } from '../../db/orders.ts';
import { goodsInSheet, type OrderOnItsWay } from '../../worker/sheets/shelf/goodsIn.ts';
import { goodsInCsv } from '../../worker/sheets/shelf/goodsInCsv.ts';
import { formOf } from '../http/accept.ts';
import { rawEndpoint, type RawEndpoint } from '../http/endpoint.ts';
import { printQuery } from './labelQuery.ts';
import { SHELF_TYPES, shelfSheetReply } from './shelfSheetReply.ts';

const { paper } = printQuery;
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
    description:
      'Each line with what was ordered, what came so far and what is still to come, and boxes for what came, what is faulty, what is wrong, and where it is put. Only a few PDFs are made at once; more are refused with 429.',
    params: z.strictObject({ id: z.uuid() }),
    query: z.strictObject({
      format: z.enum(['html', 'pdf', 'csv']).optional().meta({
        description: 'html (a page to print), pdf or csv. Left out: as the Accept header asks, or else html.',
      }),
      paper,
    }),
    cache: 'checked',
    answers: {
      200: {
        description: 'The list.',
        textTypes: [SHELF_TYPES.html, SHELF_TYPES.csv],
        bytesType: SHELF_TYPES.pdf,
      },
      304: { description: 'You have it already: If-None-Match names its ETag.' },
    },
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
];
