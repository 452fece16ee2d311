import { Readable } from 'node:stream';
import { asClub, type ClubCtx } from '../../db/club.ts';
import { getClub } from '../../db/clubs.ts';
import type { Database } from '../../db/connect.ts';
import { getRevision } from '../../db/looms.ts';
import type { ListInput } from '../../db/page.ts';
import { clubCurrencies } from '../../db/shortContext.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { fileOf, tableOf } from '../../worker/tables/tables.ts';
import { templateText } from '../../worker/tables/template.ts';
import { tableText } from '../../worker/tables/write.ts';
import { listIn, loomContext, type ListName } from './looms.ts';
import { storeOf, type EntryTableName } from './stores.ts';

/** A table to be sent; its text is made when its body is asked for. */
export interface Table {
  headers: Record<string, string>;
  body: () => ReadableStream<Uint8Array>;
}

/** Entries read at once. */
const PAGE = 500;

const headersOf = (file: string) => ({
  'content-type': 'text/csv; charset=utf-8',
  'content-disposition': `attachment; filename="${file}"`,
  'cache-control': 'private, no-store',
  vary: 'accept',
});

/** Which entries of a table, and in which order. */
type Asked = { name: EntryTableName } & Omit<ListInput, 'limit' | 'after'>;

/** Entries of a table, read page by page as they are sent: no transaction waits for a slow reader. */
export async function entriesAsCsv(database: Database, base: ClubCtx, asked: Asked): Promise<Table> {
  const { name } = asked;
  const context = await asClub(database, base, (ctx) => clubCurrencies({ ctx }));
  return streamed(
    fileOf(name),
    tableText(tableOf(name), entries(database, base, asked), { context: () => context }),
  );
}

async function* entries(
  database: Database,
  base: ClubCtx,
  { name, ...asked }: Asked,
): AsyncGenerator<Fields> {
  let after: string | undefined;
  do {
    const input = { ...asked, limit: PAGE, after };
    const page = await asClub(database, base, (ctx) => storeOf(name).page({ ctx, input }));
    yield* page.items as Fields[];
    after = page.next ?? undefined;
  } while (after !== undefined);
}

/** One list of a loom. Error: NotFound. */
export async function listAsCsv(
  database: Database,
  base: ClubCtx,
  { code, table: name, revision }: { code: string; table: ListName; revision: number | undefined },
): Promise<Table> {
  const { body, context } = await asClub(database, base, async (ctx) => {
    const { body } = await getRevision({ ctx, input: { code, revision } });
    return { body, context: loomContext(await getClub({ ctx }), body) };
  });
  const table = tableOf(name);
  // All rows are of this loom.
  const columns = table.columns.filter((column) => column.name !== 'loom');
  return streamed(
    `${code}-${fileOf(name)}`,
    tableText(table, listIn(body, table), { columns, context: () => context }),
  );
}

/** An empty table with its explanations. */
export function templateAsCsv(name: EntryTableName | ListName): Table {
  return streamed(fileOf(name), [templateText(tableOf(name))]);
}

/** A table's text as a file of this name. */
export function streamed(file: string, text: AsyncIterable<string> | Iterable<string>): Table {
  return {
    headers: headersOf(file),
    body: () =>
      Readable.toWeb(
        Readable.from(bytesOf(text), { objectMode: true, highWaterMark: 1 }),
      ) as ReadableStream<Uint8Array>,
  };
}

async function* bytesOf(text: AsyncIterable<string> | Iterable<string>): AsyncGenerator<Uint8Array> {
  for await (const chunk of text) yield Buffer.from(chunk, 'utf8');
}
