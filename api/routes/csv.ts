import type { Context } from 'hono';
import { z } from 'zod';
import type { Deps, Env } from '../http/deps.ts';
import type { SlowCall } from '../http/endpoint.ts';
import { formOf } from '../http/accept.ts';
import { HttpProblem } from '../http/problem.ts';
import { sendStream } from '../http/send.ts';
import { entriesAsCsv, templateAsCsv } from '../tables/asCsv.ts';
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
  'With `format=csv`, or `Accept: text/csv`, the whole list as one table for a spreadsheet; nothing else is then asked in the query.';

interface Asked {
  format?: 'json' | 'csv' | 'template' | undefined;
}

/** A list's answer as a table, where that is asked for. */
export function asCsv(name: EntryTableName) {
  return (
    c: Context<Env>,
    { ctx, query }: SlowCall<unknown, Asked>,
    { database }: Deps,
  ): Promise<Response> | undefined => {
    const asked = query.format ?? formOf(c.req.header('accept'), undefined, TYPES);
    if (asked === 'json') return undefined;
    const others = Object.keys(c.req.query()).filter((each) => each !== 'format');
    if (others.length > 0) throw alone(others);
    return asked === 'template'
      ? Promise.resolve(sendStream(c, templateAsCsv(name)))
      : entriesAsCsv(database, ctx, name).then((table) => sendStream(c, table));
  };
}

function alone(others: readonly string[]): HttpProblem {
  return new HttpProblem('not-valid', 'A table holds the whole list.', {
    findings: others.map((name) => ({
      code: 'not-with-csv',
      severity: 'stop',
      at: `/${name}`,
      where: 'query',
      found: name,
      todo: 'Leave it out, or ask for JSON.',
    })),
  });
}
