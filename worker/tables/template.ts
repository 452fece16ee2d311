import { stringify } from 'csv-stringify/sync';
import type { Table } from './tables.ts';

/** The cells of the example row, without the mark that makes it one to be passed over. */
const exampleRow = ({ columns }: Table): string[] => columns.map(({ example = '' }) => example);

/**
 * An empty table: all column names, a row that explains each, and an example. Both rows begin with #, so that a table that
 * is filled in below them says nothing but what was filled in.
 */
export function templateText(table: Table): string {
  const marked = ([first = '', ...others]: readonly string[]) => [`# ${first}`, ...others];
  return stringify(
    [
      table.columns.map(({ name }) => name),
      marked(table.columns.map(({ says }) => says)),
      marked(exampleRow(table)),
    ],
    { record_delimiter: '\r\n' },
  );
}
