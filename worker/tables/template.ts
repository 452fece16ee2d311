import { stringify } from 'csv-stringify/sync';
import type { Table } from './tables.ts';

/** A row to be passed over, whichever of its cells are deleted. */
const marked = (cells: readonly string[]) => cells.map((cell) => (cell === '' ? '' : `# ${cell}`));

/**
 * An empty table: all column names, a row that explains each, and an example. Every cell of both rows begins with #, so that
 * they say nothing whichever columns are deleted. The column of the loom, which most folders do not need, stands last.
 */
export function templateText(table: Table): string {
  const isLoom = ({ name }: { name: string }) => table.ofLooms && name === 'loom';
  const columns = [
    ...table.columns.filter((column) => !isLoom(column)),
    ...table.columns.filter((column) => isLoom(column)),
  ];
  return stringify(
    [
      columns.map(({ name }) => name),
      marked(columns.map(({ says }) => says)),
      marked(columns.map(({ example = '' }) => example)),
    ],
    { record_delimiter: '\r\n' },
  );
}
