import { table, type ColumnUserConfig } from 'table';

/** Width of a printed page of text, characters. */
export const PAGE = 110;

export interface Column {
  head: string;
  align?: 'left' | 'right';
  /** Takes what width the others leave, and wraps. */
  wraps?: boolean;
}

const GAP = 2;
const NARROWEST = 16;
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
  const cells = [columns.map(({ head }) => head), ...rows.map((row) => row.map(printable))];
  const widths = fit(columns, cells);
  const config = columns.map((column, index): ColumnUserConfig => ({
    alignment: column.align ?? 'left',
    width: widths[index] ?? 1,
    wrapWord: true,
    paddingLeft: 0,
    paddingRight: index === columns.length - 1 ? 0 : GAP,
  }));
  return trimmed(table(cells, { border: BORDER, drawHorizontalLine: (line) => line === 1, columns: config }));
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
  for (const word of printable(text).split(' ')) {
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
