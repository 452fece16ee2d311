import { nearestName } from '../command/nearest.ts';
import type { Column } from './column.ts';
import { bare } from './cells.ts';
import { shown, tableFault, type TableFault } from './tableFault.ts';
import { fileOf, type Table } from './tables.ts';

/** What stands in which column of a file. */
export interface Layout {
  readonly table: Table;
  /** How the file is named in what is told of it. */
  readonly file: string;
  /** Column by column; undefined: it has no name, and stays empty. */
  readonly columns: readonly (Column | undefined)[];
}

/** Most columns that a file may have, whatever is in them. */
const MOST_COLUMNS = 1_000;

/** Names are compared without regard to capitals, spaces, dashes and underscores. */
export const plainName = (name: string) => name.toLowerCase().replace(/[\s_‐-]+/gu, '');

/** The layout that a row of column names says, or what to fix in it. */
export function layoutOf(
  table: Table,
  names: readonly string[],
  row: number,
  file = fileOf(table.name),
): { layout: Layout } | { faults: TableFault[] } {
  if (names.length > MOST_COLUMNS)
    return {
      faults: [
        tableFault(
          file,
          { row },
          {
            code: 'too-many-columns',
            found: `${names.length} columns`,
            limit: `at most ${MOST_COLUMNS} columns`,
            todo: 'Take out the columns that this table does not have.',
          },
        ),
      ],
    };
  const known = new Map(
    table.columns.flatMap((column) =>
      [column.name, ...(column.also ?? [])].map((name) => [plainName(name), column]),
    ),
  );
  const faults: TableFault[] = [];
  const columns = names.map((name) => {
    const said = bare(name);
    if (said === '') return undefined;
    const column = known.get(plainName(said));
    if (!column) faults.push(unknown(table, file, row, said));
    return column;
  });
  columns.forEach((column, at) => {
    const first = columns.indexOf(column);
    if (column && first < at) faults.push(twice(file, row, column, names[first] ?? '', names[at] ?? ''));
  });
  return faults.length > 0 ? { faults } : { layout: { table, file, columns } };
}

function unknown({ columns }: Table, file: string, row: number, name: string): TableFault {
  const nearest = nearestName(
    name,
    columns.flatMap((column) => [column.name, ...(column.also ?? [])]),
  );
  return tableFault(
    file,
    { row, column: name.slice(0, 60) },
    {
      code: 'unknown-column',
      found: shown(name),
      limit: columns.map((column) => column.name).join(', '),
      todo: `This table has no such column. If “${nearest ?? ''}” is meant, write that; else take the column out.`,
    },
  );
}

function twice(file: string, row: number, { name }: Column, first: string, second: string): TableFault {
  return tableFault(
    file,
    { row, column: name },
    {
      code: 'duplicate-column',
      found: first === second ? `${shown(first)} twice` : `${shown(first)} and ${shown(second)}`,
      todo: 'Keep one of the two columns.',
    },
  );
}

/** What must be there and is not; asked only of files whose rows are all new. */
export function missingColumns({ table, file, columns }: Layout, row: number): TableFault[] {
  return table.columns
    .filter((column) => column.needed && !columns.includes(column))
    .map(({ name, says, example }) =>
      tableFault(
        file,
        { row, column: name },
        {
          code: 'missing-column',
          found: 'no such column',
          todo: `Add the column “${name}”. ${says}${example === undefined ? '' : ` For example: ${example}.`}`,
        },
      ),
    );
}
