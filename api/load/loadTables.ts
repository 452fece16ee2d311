import { Refused, Unreachable, type Caller } from '../client.ts';
import type { TableImport } from '../tables/summary.ts';
import type { EntryTableName } from '../tables/stores.ts';
import type { Way } from './loadJob.ts';

/** A table's file, and what its rows name that other files of the same load bring. */
export interface TableFile {
  name: EntryTableName;
  path: string;
}

/** What came of one file; or why it was refused. */
export interface LoadedTable {
  file: string;
  told?: TableImport;
  why?: string;
}

interface Options {
  way: Way;
  /** How the files are read, and what holds for offers that do not state their own, as the API's query has it. */
  query: Readonly<Record<string, string>>;
  /** Codes of parts and suppliers that the files themselves bring: a preview does not miss them. */
  own: ReadonlySet<string>;
}

/** A file's order: what names others comes after them. */
export const TABLE_ORDER: readonly EntryTableName[] = [
  'parts',
  'suppliers',
  'fits',
  'stock',
  'offers',
  'rates',
  'lanes',
];

/** Most rows that are told of one file. */
const ROWS = '10000';

/**
 * Sends files of tables to a club one after another. Without `update` what is there already stays. Rejects where the key opens
 * nothing or may not do it.
 */
export async function loadTables(
  api: Caller,
  files: readonly TableFile[],
  { way, query, own }: Options,
): Promise<LoadedTable[]> {
  const loaded: LoadedTable[] = [];
  for (const { name, path } of files) {
    const { decimalComma, ...offers } = query;
    const asked = new URLSearchParams({
      rows: ROWS,
      ...(decimalComma === undefined ? {} : { decimalComma }),
      ...(name === 'offers' ? offers : {}),
      ...(way === 'preview' ? { preview: 'true' } : {}),
      ...(way === 'add' ? { onlyNew: 'true' } : {}),
    });
    const file = `${name}.csv`;
    try {
      const answer = await api.sendFile(`/v1/${name}/table?${asked.toString()}`, path, 'text/csv');
      const told = (await answer.json()) as TableImport;
      loaded.push({ file, told: way === 'preview' ? withOwn(told, own) : told });
    } catch (error) {
      if (error instanceof Refused && (error.status === 401 || error.status === 403)) throw error;
      if (!(error instanceof Refused) && !(error instanceof Unreachable)) throw error;
      loaded.push({ file, why: error.message });
      if (error instanceof Unreachable) break;
    }
  }
  return loaded;
}

/** A preview writes nothing, so a row may name what another file would have brought. */
function withOwn(told: TableImport, own: ReadonlySet<string>): TableImport {
  let sound = 0;
  const rows = told.rows.map((row) => {
    const faults = row.faults?.filter(
      ({ code, found }) => !/^unknown-(part|supplier)$/.test(code) || !own.has(found),
    );
    if (!faults || faults.length > 0) return faults ? { ...row, faults } : row;
    sound++;
    const { faults: _none, ...others } = row;
    return { ...others, result: 'new' as const };
  });
  return { ...told, rows, new: told.new + sound, faults: told.faults - sound };
}
