import type { Column, Row, RowGroup } from '../block.ts';
import { BOX_SIDE, columnWidths, PADDING } from './columns.ts';
import { heightOf, type Flow, type Unit } from './flow.ts';
import { PT, type Sized } from './ink.ts';
import { wrapped } from './wrap.ts';

const BODY: Sized = { face: 'regular', size: 8.5 };
const STRONG: Sized = { face: 'bold', size: 8.5 };
const HEAD: Sized = { face: 'bold', size: 8 };
const LEADING = 10.5;
/** From the top of a row to its words, and from these to its line. */
const ABOVE = 2;
const BELOW = 2.5;
/** A row with a box to write in is so high at least. */
const WRITE_ROW = 20;
/** From the top of a line of words to their foot. */
const FOOT = 8;

interface Table {
  flow: Flow;
  columns: readonly Column[];
  widths: readonly number[];
}

/** A table: its head stands on each page, and no row is split over pages. */
export function putTable(
  flow: Flow,
  columns: readonly Column[],
  rows: readonly Row[],
  totalled: boolean,
): void {
  const table = tableOf(flow, columns, rows, totalled ? rows.at(-1) : undefined);
  const head = [headUnit(table)];
  rows.forEach((row, at) => {
    // The total stands with the row before it; both are put then.
    if (totalled && at === rows.length - 2) return;
    const before = rows[at - 1];
    const last = totalled && at === rows.length - 1;
    const units = [...(last && before ? rowUnits(table, before) : []), ...rowUnits(table, row, last)];
    const first = at === 0 || (last && rows.length === 2);
    if (first) flow.put([...head, ...units]);
    else flow.put(units, head);
  });
}

/** A table whose rows stand in groups: a group that fits on a page is not split, and a longer one says its head again. */
export function putGroups(flow: Flow, columns: readonly Column[], groups: readonly RowGroup[]): void {
  const table = tableOf(flow, columns, rowsOf(groups));
  const head = headUnit(table);
  groups.forEach((group, at) => {
    const title = groupUnits(table, group.head);
    const again = [head, ...groupUnits(table, `${group.head} (continued)`)];
    const start = [...(at === 0 ? [head] : []), ...title];
    const whole = wholeGroup(table, group, flow.pageHeight - head.height - heightOf(title));
    const over = at === 0 ? [] : [head];
    if (whole) return flow.put([...start, ...whole], over);
    group.rows.forEach((row, index) => {
      const units = rowUnits(table, row);
      if (index === 0) flow.put([...start, ...units], over);
      else flow.put(units, again);
    });
  });
}

/** The rows of a group where they fit in that height; undefined where they do not. */
function wholeGroup(table: Table, { rows }: RowGroup, most: number): Unit[] | undefined {
  if (rows.length * (LEADING + ABOVE + BELOW) > most) return undefined;
  const units = rows.flatMap((row) => rowUnits(table, row));
  return heightOf(units) <= most ? units : undefined;
}

function* rowsOf(groups: readonly RowGroup[]): Generator<Row> {
  for (const { rows } of groups) yield* rows;
}

function tableOf(flow: Flow, columns: readonly Column[], rows: Iterable<Row>, total?: Row): Table {
  const fonts = { width: flow.width, head: HEAD, body: BODY };
  const widths = columnWidths(flow.ink, columns, rows, total ? { ...fonts, total } : fonts);
  return { flow, columns, widths };
}

const across = ({ widths }: Table) => widths.reduce((sum, width) => sum + width, 0);

function headUnit(table: Table): Unit {
  const { flow, columns, widths } = table;
  const cells = columns.map(({ head }, at) => wrapped(flow.ink, head, (widths[at] ?? 0) - 2 * PADDING, HEAD));
  const lines = Math.max(...cells.map(({ length }) => length));
  const height = lines * LEADING + ABOVE + BELOW;
  return {
    height,
    draw: (top) => {
      // Heads of several lines end on one line.
      cells.forEach((cell, at) =>
        drawCell(table, cell, { at, top: top + (lines - cell.length) * LEADING, font: HEAD }),
      );
      rule(table, top + height, 1.1);
    },
  };
}

/** Nearly always one unit; a row that is higher than a page is split, since it must be. */
function rowUnits(table: Table, row: Row, total = false): Unit[] {
  const { flow, columns, widths } = table;
  const font = total ? STRONG : BODY;
  const cells = columns.map(({ tick = false }, at) =>
    tick ? [] : wrapped(flow.ink, row[at] ?? '', (widths[at] ?? 0) - 2 * PADDING, font),
  );
  const lines = Math.max(1, ...cells.map(({ length }) => length));
  const most = Math.max(1, Math.floor((flow.pageHeight - 80) / LEADING));
  const units: Unit[] = [];
  for (let from = 0; from < lines; from += most) {
    const part = cells.map((cell) => cell.slice(from, from + most));
    const words = Math.min(most, lines - from) * LEADING + ABOVE + BELOW;
    const height = isWrittenIn(columns, row) ? Math.max(words, WRITE_ROW) : words;
    const marks = { total: total && from === 0, first: from === 0, row };
    units.push({ height, draw: (top) => drawRow(table, part, { ...marks, top, height, font }) });
  }
  return units;
}

const isWrittenIn = (columns: readonly Column[], row: Row) =>
  columns.some(({ writeMm }, at) => writeMm !== undefined && row[at] === '');

function drawRow(
  table: Table,
  cells: readonly (readonly string[])[],
  {
    total,
    first,
    row,
    top,
    height,
    font,
  }: { total: boolean; first: boolean; row: Row; top: number; height: number; font: Sized },
): void {
  const { columns, flow } = table;
  if (total) rule(table, top, 0.9);
  cells.forEach((cell, at) => {
    const column = columns[at];
    if (column?.tick === true) {
      if (first) flow.ink.box(leftOf(table, at) + PADDING, top + ABOVE, BOX_SIDE, BOX_SIDE, { line: 0.8 });
      return;
    }
    if (column?.writeMm !== undefined && row[at] === '') {
      const place = [leftOf(table, at) + PADDING, top + ABOVE, column.writeMm * PT] as const;
      if (first) flow.ink.box(...place, WRITE_ROW - ABOVE - BELOW, { line: 0.8 });
      return;
    }
    const boxed = column?.boxed !== undefined && (row[at] ?? '').startsWith(column.boxed);
    drawCell(table, cell, { at, top, font: boxed ? STRONG : font });
    if (boxed)
      flow.ink.box(leftOf(table, at) + 1, top + 0.8, (table.widths[at] ?? 0) - 2, height - 1.8, { line: 1 });
  });
  rule(table, top + height, 0.3);
}

function leftOf({ flow, widths }: Table, column: number): number {
  return widths.slice(0, column).reduce((sum, width) => sum + width, flow.left);
}

function drawCell(
  table: Table,
  lines: readonly string[],
  { at, top, font }: { at: number; top: number; font: Sized },
): void {
  const { ink } = table.flow;
  const left = leftOf(table, at);
  const right = left + (table.widths[at] ?? 0) - PADDING;
  lines.forEach((line, index) => {
    const foot = top + ABOVE + FOOT + index * LEADING - 0.5;
    const x = table.columns[at]?.align === 'right' ? right - ink.widthOf(line, font) : left + PADDING;
    ink.words(line, x, foot, font);
  });
}

/** The heading of a group, on grey over the whole width. */
function groupUnits(table: Table, words: string): Unit[] {
  const { ink, left } = table.flow;
  const lines = wrapped(ink, words, across(table) - 2 * PADDING, STRONG);
  const height = lines.length * LEADING + ABOVE + BELOW + 1;
  return [
    {
      height,
      draw: (top) => {
        ink.box(left, top + 0.5, across(table), height - 0.5, { dark: 0.09 });
        rule(table, top + 0.5, 0.7);
        lines.forEach((line, index) =>
          ink.words(line, left + PADDING, top + ABOVE + FOOT + 0.5 + index * LEADING, STRONG),
        );
      },
    },
  ];
}

function rule(table: Table, y: number, width: number): void {
  const { ink, left } = table.flow;
  ink.line(
    [
      [left, y],
      [left + across(table), y],
    ],
    width,
  );
}
