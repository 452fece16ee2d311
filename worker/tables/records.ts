import { parse, type CsvError } from 'csv-parse';
import { Unreadable } from './tableFault.ts';

export type Delimiter = ',' | ';' | '\t';

/** One row of the file with its cells, or what is wrong with it. */
export type Row = { row: number; cells: string[] } | { row: number; badQuote: true };

/** A row may be this long, in characters: a longer one is most often a quote that is not closed. */
const LONGEST_ROW = 1_000_000;

/**
 * The rows of a text, counted from 1 as a spreadsheet does: blank rows count, a cell of several lines is in one row. Throws
 * Unreadable where it cannot go on; all rows before come out first. What is held at once is a slice of the text and a row.
 */
export async function* recordsOf(
  text: AsyncIterable<string>,
  given?: Delimiter,
  pause: () => Promise<void> = () => Promise.resolve(),
): AsyncGenerator<Row> {
  const source = text[Symbol.asyncIterator]();
  const first = await headOf(source);
  const delimiter = given ?? delimiterOf(first.head);
  const rows: Row[] = [];
  let row = 0;
  let badAt: number | undefined;
  let end: Unreadable | undefined;
  let sinceRow = 0;
  const parser = parse({
    delimiter,
    record_delimiter: ['\r\n', '\n', '\r'],
    relax_column_count: true,
    max_record_size: LONGEST_ROW,
    skip_records_with_error: true,
    on_record: (cells: string[]) => {
      sinceRow = 0;
      if (end) return null;
      rows.push({ row: ++row, cells });
      return null;
    },
    on_skip: (error) => {
      if (error === undefined || end) return undefined;
      if (error.code === 'CSV_MAX_RECORD_SIZE') end = tooLong(row + 1);
      else if (error.code === 'CSV_QUOTE_NOT_CLOSED') end = notClosed(row + 1);
      else if (error.code === 'CSV_INVALID_CLOSING_QUOTE') end = quoteInside(row + 1);
      else if (badAt !== lineOf(error)) {
        // A bad row counts: the next one is the row after it.
        badAt = lineOf(error);
        rows.push({ row: ++row, badQuote: true });
      }
      return undefined;
    },
  });
  parser.on('error', () => undefined);
  const fed = (chunk: string) =>
    new Promise<void>((resolve, reject) =>
      parser.write(chunk, (error) => (error ? reject(error) : resolve())),
    );
  const flushed = () =>
    new Promise<void>((resolve) => {
      parser.on('end', resolve);
      parser.resume();
      parser.end();
    });
  let before = '';
  for (let next = first.rest; next !== undefined;) {
    for (let at = 0; at < next.length && !end; at += SLICE) {
      sinceRow += Math.min(SLICE, next.length - at);
      await fed(next.slice(at, at + SLICE));
      await pause();
      yield* rows.splice(0);
      if (sinceRow > LONGEST_ROW + SLICE) end ??= tooLong(row + 1);
    }
    if (end) break;
    before = next;
    try {
      next = await take(source);
    } catch (error) {
      // The parser looks ahead: rows that are whole come out before the fault, one that is cut off does not.
      if (/[\r\n]$/.test(before)) await flushed();
      yield* rows.splice(0);
      parser.destroy();
      throw error;
    }
  }
  if (!end) {
    await flushed();
    yield* rows.splice(0);
  }
  parser.destroy();
  if (end) throw end;
}

/** Characters that are parted at once: each may be a row of its own, and a row that lacks cells costs most. */
const SLICE = 2_048;

async function take(source: AsyncIterator<string>): Promise<string | undefined> {
  const next = await source.next();
  return next.done ? undefined : next.value;
}

const lineOf = (error: CsvError) => Number((error as CsvError & { lines?: number }).lines ?? 0);

const tooLong = (row: number) =>
  new Unreadable(
    {
      code: 'row-too-long',
      found: `more than ${LONGEST_ROW} characters in one row`,
      limit: `at most ${LONGEST_ROW} characters`,
      todo: 'Close the quote that is open in this row, or end its line.',
    },
    row,
  );

const quoteInside = (row: number) => new Unreadable(QUOTE_INSIDE, row);

/** Told of a row, or where the rest of the file cannot be parted into cells. */
export const QUOTE_INSIDE = {
  code: 'quote-inside',
  found: 'a quote inside a cell, or text after the quote that ends one',
  todo: 'Put the whole cell in quotes, and write each quote inside it twice: "1/4"" stud".',
};

const notClosed = (row: number) =>
  new Unreadable(
    {
      code: 'quote-not-closed',
      found: 'a cell that begins with a quote and has none at its end',
      todo: 'Close the quote. A quote inside a cell is written twice: "1/4"" stud".',
    },
    row,
  );

/** The text up to the end of the line of column names, or all of a text without one. */
async function headOf(source: AsyncIterator<string>): Promise<{ head: string; rest: string | undefined }> {
  let text = '';
  for (;;) {
    const next = await take(source);
    text += next ?? '';
    const head = headLine(text, next === undefined);
    const separator = /^sep=([,;\t])(?:\r\n|\r|\n)/i.exec(text);
    if (head !== undefined)
      return {
        head: separator?.[1] ?? head,
        rest: separator ? `\n${text.slice(separator[0].length)}` : text,
      };
    if (next === undefined) return { head: '', rest: text };
    if (text.length > LONGEST_ROW) return { head: text, rest: text };
  }
}

/** The first line that is neither blank nor a comment; undefined while none is whole. */
function headLine(text: string, whole: boolean): string | undefined {
  const lines = text.split(/\r\n|\r|\n/);
  const complete = whole ? lines : lines.slice(0, -1);
  return complete.find(
    (line) => !/^[\s,;"]*$/.test(line) && !/^\s*"?#/.test(line) && !/^sep=[,;\t]$/i.test(line),
  );
}

/** The separator that stands most often in the line, outside of quotes; the comma where none does. */
function delimiterOf(line: string): Delimiter {
  const outside = line.replace(/"[^"]*"/g, '');
  const [found = ','] = ([',', ';', '\t'] as const)
    .map((each) => [each, outside.split(each).length] as const)
    .reduce((best, each) => (each[1] > best[1] ? each : best));
  return found;
}
