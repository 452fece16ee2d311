import type { Context } from 'hono';
import type { Paper } from '../../worker/sheets/paper.ts';
import { shelfSheetHtml, type ShelfSheet } from '../../worker/sheets/shelf/shelfSheet.ts';
import { cachingHeaders } from '../http/caching.ts';
import type { Deps, Env } from '../http/deps.ts';
import { etagOfText } from '../http/etag.ts';
import { HTML, INERT } from '../http/html.ts';
import { notModified, sendStream, streamOf, varies } from '../http/send.ts';

/** The types of the forms of a sheet of the shelf. */
export const SHELF_TYPES = { html: 'text/html', pdf: 'application/pdf', csv: 'text/csv' } as const;

interface Print {
  club: string;
  sheet: ShelfSheet;
  format: keyof typeof SHELF_TYPES;
  paper: Paper | undefined;
  /** What the file is called, without its ending. */
  name: string;
  csv?: () => Iterable<string>;
}

/** A sheet of the shelf in one of its forms. Problems: those of the printer. */
export async function shelfSheetReply(
  c: Context<Env>,
  { club, sheet, format, paper, name, csv = () => [] }: Print,
  { printer }: Pick<Deps, 'printer'>,
): Promise<Response> {
  const etag = etagOfText(JSON.stringify({ sheet, format, paper: paper ?? '' }));
  const headers = { etag, ...varies(cachingHeaders('checked'), 'accept') };
  const unchanged = notModified(c, headers);
  if (unchanged) return unchanged;
  const file = { 'content-disposition': `inline; filename="${name}.${format}"` };
  if (format === 'pdf') {
    const about = { ...headers, ...file, 'content-type': SHELF_TYPES.pdf };
    if (c.req.method === 'HEAD') return new Response(null, { headers: about });
    const pdf = await printer.printShelf(club, () => Promise.resolve(sheet), paper ?? 'a4');
    return new Response(pdf, { headers: about });
  }
  if (format === 'csv')
    return sendStream(c, {
      headers: { ...headers, ...file, 'content-type': `${SHELF_TYPES.csv}; charset=utf-8` },
      body: () => streamOf(csv()),
    });
  return sendStream(c, {
    headers: { ...headers, ...INERT, 'content-type': HTML },
    body: () => streamOf(shelfSheetHtml(sheet, paper)),
  });
}
