import { editDistance, nearestName } from '../engine/model/nearest.ts';
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
  /** Places of columns whose names cannot be used: what stands below them is passed over. */
  readonly refused: ReadonlySet<number>;
  /** Columns that a refused name may mean: they are not missed beside it. */
  readonly guessed: ReadonlySet<Column>;
}

/** Most columns that a file may have, whatever is in them. */
const MOST_COLUMNS = 1_000;

/** Names are compared without regard to capitals, spaces, dashes and underscores. */
export const plainName = (name: string) => name.toLowerCase().replace(/[\s_‐-]+/gu, '');

/**
 * The layout that a row of column names says, with what to fix in it: columns with known names can be read whatever the others
 * are called. None where there are too many.
 */
export function layoutOf(
  table: Table,
  names: readonly string[],
  row: number,
  file = fileOf(table.name),
): { layout?: Layout; faults: TableFault[] } {
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
  const refused = new Set<number>();
  const guessed = new Set<Column>();
  const columns: (Column | undefined)[] = [];
  names.forEach((name, at) => {
    const said = bare(name);
    const column = known.get(plainName(said));
    const first = column ? columns.indexOf(column) : -1;
    columns.push(first < 0 ? column : undefined);
    if (said === '' || (column && first < 0)) return;
    refused.add(at);
    if (column) faults.push(twice(file, row, column, names[first] ?? '', name));
    else {
      const nearest = nearColumn(table, said);
      const meant = nearest === undefined ? undefined : known.get(plainName(nearest));
      if (meant) guessed.add(meant);
      faults.push(unknown(table, file, row, said, nearest));
    }
  });
  for (const column of columns) if (column) guessed.delete(column);
  return { layout: { table, file, columns, refused, guessed }, faults };
}

/** A name may be a slip for another that is so many letters away. */
const SLIP = 2;

function nearColumn({ columns }: Table, name: string): string | undefined {
  const nearest = nearestName(
    name,
    columns.flatMap((column) => [column.name, ...(column.also ?? [])]),
  );
  return nearest !== undefined && editDistance(name.toLowerCase(), nearest) <= SLIP ? nearest : undefined;
}

/** What to write in place of columns that people have and the tables do not. */
const INSTEAD: Readonly<Record<string, Readonly<Record<string, string>>>> = {
  wires: { watts: 'amps = watts ÷ volts: write amps.', watt: 'amps = watts ÷ volts: write amps.' },
};

function unknown(
  { name: table, columns }: Table,
  file: string,
  row: number,
  name: string,
  nearest: string | undefined,
): TableFault {
  const instead = INSTEAD[table]?.[plainName(name)];
  return tableFault(
    file,
    { row, column: name.slice(0, 60) },
    {
      code: 'unknown-column',
      found: shown(name),
      limit: columns.map((column) => column.name).join(', '),
      todo: `This table has no such column. ${
        instead ??
        (nearest === undefined
          ? 'Take the column out, or name one that the table has.'
          : `If “${nearest}” is meant, write that; else take the column out.`)
      }`,
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
export function missingColumns({ table, file, columns, guessed }: Layout, row: number): TableFault[] {
  return table.columns
    .filter((column) => column.needed && !columns.includes(column) && !guessed.has(column))
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
