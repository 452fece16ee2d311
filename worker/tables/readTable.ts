import { textOf } from './decode.ts';
import { layoutOf, type Layout } from './header.ts';
import { QUOTE_INSIDE, recordsOf, type Delimiter } from './records.ts';
import { tableFault, Unreadable, type TableFault } from './tableFault.ts';
import { fileOf, type Table } from './tables.ts';

export interface FileOptions {
  /** None: told from the line of column names. */
  readonly delimiter?: Delimiter | undefined;
  /** True: 1,5 is one and a half. */
  readonly decimalComma?: boolean | undefined;
  /** How the file is named in what is told of it. */
  readonly file?: string | undefined;
  /** Called every few rows: whoever does other work beside it waits in it for its turn. */
  readonly pause?: (() => Promise<void>) | undefined;
}

/** Rows that are passed over, beside those that are read: a spreadsheet may save some below its last line. */
const MOST_PASSED_OVER = 100_000;

/**
 * What a file says, in order: its columns, its rows, and, where it cannot be read to its end, why. Blank rows, rows whose
 * first cell begins with # and rows of which all cells do are passed over.
 */
export type TableEvent =
  | { layout: Layout; row: number; faults: readonly TableFault[] }
  | { row: number; cells: string[] }
  | { row: number; fault: TableFault }
  | { end: readonly TableFault[] };

/** Reads a table's file from its bytes. It throws nothing of its own: what is wrong comes last. */
export async function* readTable(
  table: Table,
  bytes: AsyncIterable<Uint8Array>,
  { delimiter, file = fileOf(table.name), pause }: FileOptions = {},
): AsyncGenerator<TableEvent> {
  let layout: Layout | undefined;
  let rows = 0;
  try {
    for await (const record of recordsOf(textOf(bytes), delimiter, pause)) {
      const { row } = record;
      if ('badQuote' in record) {
        yield { row, fault: badQuote(file, row) };
        continue;
      }
      const { cells } = record;
      if (row > table.mostRows + MOST_PASSED_OVER) {
        yield { end: [tooMany(file, row, table.mostRows)] };
        return;
      }
      if (isPassedOver(cells)) continue;
      if (layout) {
        if (++rows > table.mostRows) {
          yield { end: [tooMany(file, row, table.mostRows)] };
          return;
        }
        yield { row, cells };
        continue;
      }
      if (cells.some((cell) => cell.includes('\0'))) throw new Unreadable(NUL, row);
      const read = layoutOf(table, cells, row, file);
      if (!read.layout) {
        yield { end: read.faults };
        return;
      }
      layout = read.layout;
      yield { layout, row, faults: read.faults };
    }
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    yield { end: [tableFault(file, { row: error.row }, error.words)] };
    return;
  }
  if (!layout) yield { end: [tableFault(file, {}, EMPTY)] };
}

function isPassedOver(cells: readonly string[]): boolean {
  const isNote = (cell: string) => cell.trimStart().startsWith('#');
  return isNote(cells[0] ?? '') || cells.every((cell) => cell.trim() === '' || isNote(cell));
}

const NUL = {
  code: 'wrong-encoding',
  found: 'NUL characters in the line of column names',
  limit: 'UTF-8',
  todo: 'Save the table as “CSV UTF-8” and send that file.',
};

const EMPTY = {
  code: 'empty-file',
  found: 'no line of column names',
  todo: 'Begin the file with a line of column names. A template has them all: npm run price -- --template FOLDER.',
};

const badQuote = (file: string, row: number) => tableFault(file, { row }, QUOTE_INSIDE);

const tooMany = (file: string, row: number, most: number) =>
  tableFault(
    file,
    { row },
    {
      code: 'too-many-rows',
      found: `more than ${most} rows`,
      limit: `at most ${most} rows`,
      todo: 'Part the table into several files.',
    },
  );
