import type { Context } from 'hono';
import { z } from 'zod';
import { Code } from '../../worker/engine/model/code.ts';
import { LOOM_TABLE_NAMES, tableOf } from '../../worker/tables/tables.ts';
import { bodyTooLarge } from '../http/body.ts';
import type { Env } from '../http/deps.ts';
import { rawEndpoint, type RawEndpoint } from '../http/endpoint.ts';
import { changeableBy, etagOf } from '../http/etag.ts';
import { keepBody, withScratch } from '../http/scratch.ts';
import { sendJson, sendStream } from '../http/send.ts';
import { requireReadable } from '../http/tableBody.ts';
import { listAsCsv, templateAsCsv } from '../tables/asCsv.ts';
import { importEntries } from '../tables/importEntries.ts';
import { importList } from '../tables/importList.ts';
import { importPriceList, PriceListImport, PriceListQuery } from '../tables/priceList.ts';
import { ListQuery, OffersQuery, TableQuery } from '../tables/query.ts';
import { ENTRY_TABLES, type EntryTableName } from '../tables/stores.ts';
import { ListImport, TableImport } from '../tables/summary.ts';
import { CSV } from './csv.ts';

const ListParams = z.strictObject({
  code: Code,
  table: z
    .enum(LOOM_TABLE_NAMES)
    .meta({ description: 'extras: the parts that are counted in addition to all else.' }),
});

const ListFormat = z.strictObject({
  format: z.enum(['csv', 'template']).default('csv'),
  revision: z.coerce
    .number()
    .int()
    .min(1)
    .max(999_999_999)
    .optional()
    .meta({ description: 'Where none is stated, the latest.' }),
});

/** Works with a body in a file: first the whole of it, since a slow sender would hold the transaction. */
function withBody<T>(c: Context<Env>, most: number, work: (file: string) => Promise<T>): Promise<T> {
  requireReadable(c);
  return withScratch(async (file) => {
    await keepBody(c.req.raw, file, { most, tooLarge: bodyTooLarge });
    return work(file);
  });
}

const LIKE = 'docs/spreadsheets.md has the columns and the rules of all tables.';

function importRoute(name: EntryTableName): RawEndpoint {
  return rawEndpoint({
    method: 'post',
    path: `/v1/${name}/table`,
    tag: name,
    role: 'editor',
    summary: `Add and change many ${name} by a table`,
    description: [
      `${tableOf(name).says} What is new is added, and what differs is changed; columns that the table does not have stay as they are, and so do entries that it does not name.`,
      'Rows with faults are left out and told; the others are written, unless `allOrNothing` is asked. The answer is 200 in either case: `written` says whether anything was, `complete` whether the file was read to its end.',
      ...(name === 'offers'
        ? ['A wire that an offer names by size and colour, and that is no part yet, is added as a part.']
        : []),
      `A second time all is unchanged, so the call takes no Idempotency-Key. ${LIKE}`,
    ].join('\n\n'),
    query: name === 'offers' ? OffersQuery : TableQuery,
    once: false,
    bytesBody: CSV,
    problems: ['conflict', 'malformed-request'],
    answers: { 200: { description: 'What came of it, row by row.', schema: TableImport } },
    raw: (c, { ctx, query }, { database, limits }) =>
      withBody(c, limits.bodyBytes, async (file) =>
        sendJson(c, await importEntries(database, ctx, { name, file, query })),
      ),
  });
}

export const tableRoutes: RawEndpoint[] = [
  ...ENTRY_TABLES.map(importRoute),
  rawEndpoint({
    method: 'post',
    path: '/v1/suppliers/{code}/price-list',
    tag: 'suppliers',
    role: 'editor',
    summary: 'Bring in a supplier’s price list',
    description: [
      'A table with the columns of offers; it needs no supplier. The answer says what rises and falls and by how many percent, what is new, what was only seen again, and which offers of this supplier the list does not have. With `preview=true` nothing is written. Rows that state no day have that of `seenOn`, or else today.',
      `All is done in one transaction. A second time all is unchanged, so the call takes no Idempotency-Key. ${LIKE}`,
    ].join('\n\n'),
    params: z.strictObject({ code: Code }),
    query: PriceListQuery,
    once: false,
    bytesBody: CSV,
    problems: ['conflict', 'malformed-request'],
    answers: { 200: { description: 'What came of it.', schema: PriceListImport } },
    raw: (c, { ctx, params: { code }, query }, { database, limits }) =>
      withBody(c, limits.bodyBytes, async (file) =>
        sendJson(c, await importPriceList(database, ctx, { supplier: code, file, query })),
      ),
  }),
  rawEndpoint({
    method: 'get',
    path: '/v1/looms/{code}/tables/{table}',
    tag: 'looms',
    role: 'viewer',
    summary: 'Read a list of a loom as a table',
    description: LIKE,
    params: ListParams,
    query: ListFormat,
    answers: { 200: { description: 'The table.', textTypes: [CSV] } },
    raw: async (c, { ctx, params: { code, table }, query: { format, revision } }, { database }) =>
      sendStream(
        c,
        format === 'template'
          ? templateAsCsv(table)
          : await listAsCsv(database, ctx, { code, table, revision }),
      ),
  }),
  rawEndpoint({
    method: 'post',
    path: '/v1/looms/{code}/tables/{table}',
    tag: 'looms',
    role: 'member',
    roleForOthers: 'editor',
    summary: 'Replace a list of a loom by a table',
    description: [
      'The rows take the place of the list in the latest revision, and the loom gets its next revision; where the list is the same, it gets none. Of things that are there already, columns that the table does not have stay as they are; things that it does not name are taken out.',
      'Nothing is written while there is any fault: `written` is then false, and the answer is 200. If-Match names the latest revision that you read; without it the latest is meant.',
      LIKE,
    ].join('\n\n'),
    params: ListParams,
    query: ListQuery,
    once: false,
    ifMatch: 'optional',
    bytesBody: CSV,
    problems: ['conflict', 'malformed-request'],
    answers: { 200: { description: 'What came of it, row by row.', schema: ListImport } },
    raw: (c, { ctx, params: { code, table }, query }, { database, limits }) => {
      const tag = c.req.header('if-match');
      const version = tag === undefined ? 'any' : changeableBy(tag);
      return withBody(c, limits.bodyBytes, async (file) => {
        const { told, version: latest } = await importList(database, ctx, {
          code,
          table,
          file,
          query,
          version,
        });
        return sendJson(c, told, { etag: etagOf(latest) });
      });
    },
  }),
];
