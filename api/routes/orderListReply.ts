import { z } from 'zod';
import { orderListCsv } from '../../worker/sheets/orderListCsv.ts';
import { orderListHtml } from '../../worker/sheets/orderListHtml.ts';
import type { OrderSheet } from '../../worker/sheets/orderWords.ts';
import type { Reply } from '../http/endpoint.ts';
import { HTML, INERT } from '../http/html.ts';

/** The forms of an order list. */
export const ORDER_TYPES = { json: 'application/json', csv: 'text/csv', html: 'text/html' } as const;

export const orderListFormat = {
  format: z.enum(['json', 'csv', 'html']).optional().meta({
    description: 'json, csv, or html (a page to print). Left out: as the Accept header asks, or else json.',
  }),
};

const VARY = { vary: 'accept' };

/** An order list in one of its forms; `name` is that of the file. */
export function orderListReply(sheet: OrderSheet, name: string, format: keyof typeof ORDER_TYPES): Reply {
  if (format === 'json') return { status: 200, body: sheet.list, headers: VARY };
  if (format === 'html')
    return {
      status: 200,
      text: { type: HTML, content: orderListHtml(sheet) },
      headers: { ...VARY, ...INERT },
    };
  return {
    status: 200,
    text: { type: 'text/csv; charset=utf-8', content: orderListCsv(sheet.list) },
    headers: { ...VARY, 'content-disposition': `attachment; filename="${name}.csv"` },
  };
}
