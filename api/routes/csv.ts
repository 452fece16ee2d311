import type { Context } from 'hono';
import { z } from 'zod';
import type { Deps, Env } from '../http/deps.ts';
import type { SlowCall } from '../http/endpoint.ts';
import { HttpProblem } from '../http/problem.ts';
import { entriesAsCsv, templateAsCsv } from '../tables/asCsv.ts';
import type { EntryTableName } from '../tables/stores.ts';

export const CSV = 'text/csv';

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
    const asked = query.format ?? (prefersCsv(c.req.header('accept')) ? 'csv' : 'json');
    if (asked === 'json') return undefined;
    const others = Object.keys(c.req.query()).filter((each) => each !== 'format');
    if (others.length > 0) throw alone(others);
    return asked === 'template' ? Promise.resolve(templateAsCsv(name)) : entriesAsCsv(database, ctx, name);
  };
}

/** Whether a caller names text/csv and likes it better than JSON (RFC 9110 §12.5.1). */
function prefersCsv(accept = ''): boolean {
  const liked = new Map(
    accept.split(',').map((range) => {
      const [type = '', ...parameters] = range.split(';').map((word) => word.trim().toLowerCase());
      const q = parameters.find((word) => word.startsWith('q='));
      return [type, q === undefined ? 1 : Number(q.slice(2))] as const;
    }),
  );
  const csv = liked.get(CSV) ?? 0;
  return csv > 0 && csv >= (liked.get('application/json') ?? 0);
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
