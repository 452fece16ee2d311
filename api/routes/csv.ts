import type { Context } from 'hono';
import { z } from 'zod';
import type { Deps, Env } from '../http/deps.ts';
import type { SlowCall } from '../http/endpoint.ts';
import { formOf } from '../http/accept.ts';
import { sendStream } from '../http/send.ts';
import { entriesAsCsv, templateAsCsv } from '../tables/asCsv.ts';
import { notWithTable } from '../tables/notWithTable.ts';
import type { EntryTableName } from '../tables/stores.ts';

export const CSV = 'text/csv';
const TYPES = { json: 'application/json', csv: CSV } as const;

/** The one more thing that a list of entries may be asked for. */
export const format = {
  format: z.enum(['json', 'csv', 'template']).optional().meta({
    description: 'csv: all entries as one table. template: the same table, empty, with explanations.',
  }),
};

export const AS_CSV =
  'With `format=csv`, or `Accept: text/csv`, the whole list as one table for a spreadsheet: all that the same query without pages lists, in the same order. A search has no table.';

interface Asked {
  format?: 'json' | 'csv' | 'template' | undefined;
  sort?: string | undefined;
}

/** A list's answer as a table, where that is asked for; `filtersOf`: what of a query narrows the list. */
export function asCsv<Q extends Asked>(
  name: EntryTableName,
  filtersOf: (query: Q) => Record<string, string | undefined>,
) {
  return (
    c: Context<Env>,
    { ctx, query }: SlowCall<unknown, Q>,
    { database }: Deps,
  ): Promise<Response> | undefined => {
    const asked = query.format ?? formOf(c.req.header('accept'), undefined, TYPES);
    if (asked === 'json') return undefined;
    const filters = filtersOf(query);
    const may = asked === 'template' ? ['format'] : ['format', 'sort', ...Object.keys(filters)];
    const others = Object.keys(c.req.query()).filter((each) => !may.includes(each));
    if (others.length > 0) throw notWithTable(detailOf(asked), others);
    return asked === 'template'
      ? Promise.resolve(sendStream(c, templateAsCsv(name)))
      : entriesAsCsv(database, ctx, { name, filters, sort: query.sort }).then((table) =>
          sendStream(c, table),
        );
  };
}

const detailOf = (asked: string) =>
  asked === 'template'
    ? 'A template is an empty table, so that nothing else is asked with it.'
    : 'A table holds the whole list, without pages. It can be filtered and sorted, but not searched.';
