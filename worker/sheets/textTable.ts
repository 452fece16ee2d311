import { table, type ColumnUserConfig } from 'table';
import type { Column, RowGroup } from './block.ts';

/** Width of a printed page of text, characters. */
export const PAGE = 110;

const GAP = 2;
const NARROWEST = 16;
/** Lines of a paragraph are set in by no more than this. */
const MOST_SET_IN = 10;
const RULE = '─';

const BORDER = {
  joinBody: RULE,
  joinLeft: '',
  joinRight: '',
  joinJoin: '',
  bodyLeft: '',
  bodyRight: '',
  bodyJoin: '',
};

/** Rows under a ruled head, no other lines; fits the page by wrapping the columns that may. No rows: no text. */
export function textTable(columns: readonly Column[], rows: readonly (readonly string[])[]): string {
  if (rows.length === 0) return '';
  const shown = rows.map((row) => shownRow(columns, row));
  return drawn(columns, widthsOf(columns, shown), [columns.map(({ head }) => head), ...shown], true);
}

/** One table whose rows stand in groups, each under its heading; the columns of all are alike. */
export function groupedTable(columns: readonly Column[], groups: readonly RowGroup[]): string {
  return [...groupedPieces(columns, groups)].join('\n\n');
}

/** The same in pieces: the head, then each group. */
export function* groupedPieces(columns: readonly Column[], groups: readonly RowGroup[]): Generator<string> {
  const shown = groups.map(({ head, rows }) => ({ head, rows: rows.map((row) => shownRow(columns, row)) }));
  const widths = widthsOf(
    columns,
    shown.flatMap(({ rows }) => rows),
  );
  const heads = drawn(columns, widths, [columns.map(({ head }) => head)], false);
  const width = widths.reduce((sum, each) => sum + each, GAP * (columns.length - 1));
  yield `${heads}\n${RULE.repeat(width)}`;
  for (const { head, rows } of shown)
    yield [paragraph(head), ...(rows.length === 0 ? [] : [drawn(columns, widths, rows, false)])].join('\n');
}

const shownRow = (columns: readonly Column[], row: readonly string[]) =>
  row.map((cell, index) => (columns[index]?.tick === true ? '[ ]' : printable(cell)));

function widthsOf(columns: readonly Column[], rows: readonly (readonly string[])[]): number[] {
  return fit(columns, [columns.map(({ head }) => head), ...rows]);
}

function drawn(
  columns: readonly Column[],
  widths: readonly number[],
  rows: readonly (readonly string[])[],
  headed: boolean,
): string {
  const config = columns.map((column, index): ColumnUserConfig => ({
    alignment: column.align ?? 'left',
    width: widths[index] ?? 1,
    wrapWord: true,
    paddingLeft: 0,
    paddingRight: index === columns.length - 1 ? 0 : GAP,
  }));
  return trimmed(
    table(
      rows.map((row) => [...row]),
      {
        border: BORDER,
        drawHorizontalLine: (line) => headed && line === 1,
        columns: config,
      },
    ),
  );
}

/** Two columns without a head: a name and what belongs to it. */
export function pairs(
  rows: readonly (readonly [string, string])[],
  align: 'left' | 'right' = 'left',
): string {
  const width = longest(rows.map(([name]) => name));
  const values = rows.map(([, value]) => value);
  const most = longest(values);
  return rows
    .map(([name, value]) => `${name.padEnd(width + GAP)}${align === 'right' ? value.padStart(most) : value}`)
    .join('\n');
}

/** A paragraph of the page's width, its further lines set in under its first. */
export function paragraph(text: string, first = '', further = ' '.repeat(first.length)): string {
  const lines: string[] = [];
  let line = first;
  let empty = true;
  for (const word of printable(text).split(' ').flatMap(inPieces)) {
    if (!empty && line.length + 1 + word.length > PAGE) {
      lines.push(line);
      line = further;
      empty = true;
    }
    line += `${empty ? '' : ' '}${word}`;
    empty = false;
  }
  return [...lines, line].join('\n');
}

/** A word as it fits on a line: one that is longer than the page is broken. */
function inPieces(word: string): string[] {
  const most = PAGE - MOST_SET_IN;
  if (word.length <= most) return [word];
  return [word.slice(0, most), ...inPieces(word.slice(most))];
}

/** What people typed may hold line ends and control characters, which would break a table or a terminal. */
export function printable(text: string): string {
  return text.replaceAll(/\p{Cc}+/gu, ' ');
}

/** Of any number of texts; spreading them as arguments would have a limit. */
function longest(texts: readonly string[]): number {
  return texts.reduce((most, text) => Math.max(most, text.length), 0);
}

function fit(columns: readonly Column[], cells: readonly (readonly string[])[]): number[] {
  const natural = columns.map((_, index) => Math.max(1, longest(cells.map((row) => row[index] ?? ''))));
  const over = natural.reduce((sum, width) => sum + width, GAP * (columns.length - 1)) - PAGE;
  if (over <= 0) return natural;
  const wrapping = columns.flatMap((column, index) => (column.wraps ? [index] : []));
  const room = wrapping.reduce((sum, index) => sum + (natural[index] ?? 0), 0) - over;
  return natural.map((width, index) =>
    wrapping.includes(index)
      ? share(
          width,
          wrapping.map((at) => natural[at] ?? 0),
          room,
        )
      : width,
  );
}

/** A wrapping column's width: its natural one where that is no more than an even share, else what the narrow ones leave. */
function share(width: number, widths: readonly number[], room: number): number {
  let left = room;
  let sharing = widths.length;
  for (const narrow of [...widths].sort((a, b) => a - b)) {
    const even = Math.floor(left / sharing);
    if (narrow > even) return Math.max(NARROWEST, Math.min(width, even));
    if (narrow === width) return width;
    left -= narrow;
    sharing--;
  }
  return width;
}

function trimmed(text: string): string {
  return text
    .split('\n')
    .map((line) => line.trimEnd())
    .join('\n')
    .trimEnd();
}
