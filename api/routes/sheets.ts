import { createHash } from 'node:crypto';
import { z } from 'zod';
import { asClub, type ClubCtx } from '../../db/club.ts';
import type { Database } from '../../db/connect.ts';
import { getQuoteText } from '../../db/quotes.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { readResult } from '../../worker/engine/model/upgrade.ts';
import type { LabelLayout } from '../../worker/sheets/labels/label.ts';
import type { Paper } from '../../worker/sheets/paper.ts';
import { sheetCsv, sheetsHtml, sheetText } from '../../worker/sheets/print.ts';
import { SHEET_NAMES, SHEET_TITLES, type SheetName } from '../../worker/sheets/sheet.ts';
import { sheetOf } from '../../worker/sheets/sheets.ts';
import { formOf } from '../http/accept.ts';
import { cachingHeaders } from '../http/caching.ts';
import { endpoint, rawEndpoint, type AnyEndpoint } from '../http/endpoint.ts';
import { INERT } from '../http/html.ts';
import { notModified, sendStream, streamOf, varies } from '../http/send.ts';
import { labelsOf, printQuery } from './labelQuery.ts';

const FORMATS = ['html', 'pdf', 'csv', 'text'] as const;
type Format = (typeof FORMATS)[number];
type Asked = SheetName | 'all';

const TYPES = { html: 'text/html', pdf: 'application/pdf', csv: 'text/csv', text: 'text/plain' } as const;
const CHARSET = '; charset=utf-8';

const IdParam = z.strictObject({ id: z.uuid() });
const SheetParam = z.strictObject({ id: z.uuid(), sheet: z.enum([...SHEET_NAMES, 'all']) });
const SheetQuery = z.strictObject({
  format: z.enum(FORMATS).optional().meta({
    description:
      'html (a page to print), pdf, csv or text. Left out: as the Accept header asks, or else html.',
  }),
  ...printQuery,
});

const SheetsOut = z
  .strictObject({
    items: z.array(
      z.strictObject({
        sheet: z.enum([...SHEET_NAMES, 'all']),
        title: z.string(),
        formats: z
          .array(z.strictObject({ format: z.enum(FORMATS), path: z.string().regex(/^\/v1\//) }))
          .meta({ description: 'The forms that it can be had in, each with its path.' }),
      }),
    ),
  })
  .meta({ id: 'Sheets' });

/** The quote is no table; the whole set is one page or one PDF. */
function formatsOf(sheet: Asked): Format[] {
  return FORMATS.filter((format) => {
    if (sheet === 'all') return format === 'html' || format === 'pdf';
    return !(sheet === 'quote' && format === 'csv');
  });
}

export const sheetRoutes: AnyEndpoint[] = [
  endpoint({
    method: 'get',
    path: '/v1/quotes/{id}/sheets',
    tag: 'quotes',
    role: 'viewer',
    summary: 'List the sheets of a quote with their paths',
    description: '409 until the quote is ready.',
    params: IdParam,
    cache: 'checked',
    answers: {
      200: { description: 'The sheets, in the order of work; then all of them in one.', schema: SheetsOut },
    },
    problems: ['conflict'],
    handle: async ({ ctx, params }) => {
      await getQuoteText({ ctx, input: { ...params, which: 'result' } });
      const items = ([...SHEET_NAMES, 'all'] as const).map((sheet) => ({
        sheet,
        title: sheet === 'all' ? 'All sheets' : SHEET_TITLES[sheet],
        formats: formatsOf(sheet).map((format) => ({
          format,
          path: `/v1/quotes/${params.id}/sheets/${sheet}?format=${format}`,
        })),
      }));
      return { status: 200, body: { items } };
    },
  }),
  rawEndpoint({
    method: 'get',
    path: '/v1/quotes/{id}/sheets/{sheet}',
    tag: 'quotes',
    role: 'viewer',
    summary: 'Read a sheet of a quote as a page to print, as PDF, as CSV or as text',
    description:
      'quote, orders, cutting, labels, build, test; or all of them in one, as html or pdf. 406 if there is no such form of the sheet; 409 until the quote is ready. The ETag changes when the result does. Only a few PDFs are made at once; more are refused with 429.',
    params: SheetParam,
    query: SheetQuery,
    answers: {
      200: {
        description: 'The sheet.',
        textTypes: [TYPES.html, TYPES.csv, TYPES.text],
        bytesType: TYPES.pdf,
      },
      304: { description: 'You have it already: If-None-Match names its ETag.' },
    },
    problems: ['conflict', 'not-acceptable', 'too-many', 'out-of-time'],
    raw: async (c, { ctx, params, query }, deps) => {
      const types = Object.fromEntries(formatsOf(params.sheet).map((format) => [format, TYPES[format]]));
      const format = formOf<Format>(c.req.header('accept'), query.format, types);
      const paper = query.paper ?? 'a4';
      const labels = labelsOf(query, paper);
      const stored = await storedResult(deps.database, ctx, params.id);
      const etag = etagOf(stored, { sheet: params.sheet, format, labels, paper: query.paper ?? '' });
      const headers = { etag, ...varies(cachingHeaders('checked'), 'accept') };
      const unchanged = notModified(c, headers);
      if (unchanged) return unchanged;
      const names = params.sheet === 'all' ? SHEET_NAMES : [params.sheet];
      if (format === 'pdf') {
        if (c.req.method === 'HEAD')
          return new Response(null, { headers: { ...headers, 'content-type': TYPES.pdf } });
        const pdf = await deps.printer.print(ctx.club, () => Promise.resolve(stored), {
          sheets: names,
          paper,
          labels,
        });
        return new Response(pdf, {
          headers: {
            ...headers,
            'content-type': TYPES.pdf,
            'content-disposition': fileName(params.sheet, 'pdf'),
          },
        });
      }
      const print = { format, labels, paper: query.paper };
      return sendStream(c, {
        headers: {
          ...headers,
          'content-type': `${TYPES[format]}${CHARSET}`,
          ...(format === 'html' ? INERT : {}),
          ...(format === 'csv' ? { 'content-disposition': fileName(params.sheet, 'csv') } : {}),
        },
        body: () => streamOf(piecesOf(readResult(JSON.parse(stored)), names, print)),
      });
    },
  }),
];

function storedResult(database: Database, ctx: ClubCtx, id: string): Promise<string> {
  return asClub(database, ctx, (ctx) => getQuoteText({ ctx, input: { id, which: 'result' } }));
}

function etagOf(stored: string, asked: object): string {
  const hash = createHash('sha256').update(stored).update(JSON.stringify(asked));
  return `"${hash.digest('base64url')}"`;
}

interface Print {
  format: Exclude<Format, 'pdf'>;
  labels: LabelLayout;
  paper: Paper | undefined;
}

function piecesOf(
  result: Result,
  names: readonly SheetName[],
  { format, labels, paper }: Print,
): Iterable<string> {
  const sheets = names.map((name) => sheetOf(result, name, labels));
  const [first] = sheets;
  if (format === 'html' || !first) return sheetsHtml(result, sheets, paper);
  if (format === 'text') return sheetText(result, first);
  return sheetCsv(result, first) ?? [];
}

const fileName = (sheet: Asked, ending: string) => `inline; filename="${sheet}.${ending}"`;
