import type { Context } from 'hono';
import { z } from 'zod';
import { asClub, type Ctx } from '../../db/club.ts';
import type { Page } from '../../db/page.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { templateText } from '../../worker/tables/template.ts';
import { fileOf, type Table } from '../../worker/tables/tables.ts';
import { tableText } from '../../worker/tables/write.ts';
import { formOf } from '../http/accept.ts';
import type { Deps, Env } from '../http/deps.ts';
import type { SlowCall } from '../http/endpoint.ts';
import { sendStream } from '../http/send.ts';
import { streamed } from './asCsv.ts';
import { notWithTable } from './notWithTable.ts';

/** Lists of orders, of deliveries and of movements as tables. */

const TYPES = { json: 'application/json', csv: 'text/csv' } as const;

export const csvFormat = {
  format: z.enum(['json', 'csv']).optional().meta({ description: 'csv: the whole list as one table.' }),
};

/** The same of a list to which a table is sent too. */
export const csvFormatOf = (sent: string) => ({
  format: z
    .enum(['json', 'csv', 'template'])
    .optional()
    .meta({
      description: `csv: the whole list as one table. template: the empty table of ${sent}, explained.`,
    }),
});

export const AS_TABLE =
  'With `format=csv`, or `Accept: text/csv`, the whole list as one table for a spreadsheet, in the same order.';

interface Listed<P, Q> {
  table: Table;
  /** The table that is sent to this list. */
  template?: Table;
  /** A page of the list, as documents of the table. */
  page: (
    ctx: Ctx,
    given: { params: P; query: Q; limit: number; after: string | undefined },
  ) => Promise<Page<object>>;
}

/** Entries read at once. */
const PAGE = 500;

/** A list's answer as a table, where that is asked for. */
export function listedAsCsv<P, Q extends { format?: 'json' | 'csv' | 'template' | undefined }>({
  table,
  template,
  page,
}: Listed<P, Q>) {
  return (
    c: Context<Env>,
    { ctx, params, query }: SlowCall<P, Q>,
    { database }: Deps,
  ): Promise<Response> | undefined => {
    const asked = query.format ?? formOf(c.req.header('accept'), undefined, TYPES);
    if (asked === 'json') return undefined;
    const paged = Object.keys(c.req.query()).filter((name) => ['limit', 'cursor'].includes(name));
    if (paged.length > 0) throw notWithTable('A table holds the whole list, without pages.', paged);
    if (asked === 'template' && template)
      return Promise.resolve(sendStream(c, streamed(fileOf(template.name), [templateText(template)])));
    const read = (after: string | undefined) =>
      asClub(database, ctx, (own) => page(own, { params, query, limit: PAGE, after }));
    // The first page is read before the answer begins: what is not there is told as a problem.
    return read(undefined).then((first) =>
      sendStream(c, streamed(fileOf(table.name), tableText(table, rest(first, read)))),
    );
  };
}

async function* rest(
  first: Page<object>,
  read: (after: string) => Promise<Page<object>>,
): AsyncGenerator<Fields> {
  for (let page = first; ; page = await read(page.next)) {
    yield* page.items as Fields[];
    if (page.next === null) return;
  }
}
