import { hiddenIn } from '../engine/model/hidden.ts';
import { JSON_DEPTH, readJson } from '../engine/model/readJson.ts';
import { isWrong, type ShortContext } from '../engine/model/short/form.ts';
import { isFields, placeOf, put, takeAway, valueAt, type Column, type Fields, type Place } from './column.ts';
import { bare, dayIn, digitsIn, numberIn, unspaced, yesNoIn, type Misread, type Read } from './cells.ts';
import type { Layout } from './header.ts';
import { wholeIn, withImplied, type Implied } from './implied.ts';
import { shown, tableFault, type FaultWords, type TableFault } from './tableFault.ts';
import type { Table } from './tables.ts';

/** Of one row, cells in columns without a name. */
const MOST_FAULTS = 20;
/** Of one cell. */
const MOST_VALUES = 20_000;

/** What one cell says, and where it belongs; an undefined value: the cell is empty. */
export interface Entry {
  column: Column;
  place: Place;
  value: unknown;
}

export interface ReadCells {
  entries: Entry[];
  /** What cannot be read in the row, by cell. */
  faults: TableFault[];
}

/** The cells of a row, each as its column says. */
export function entriesOf(
  layout: Layout,
  { row, cells }: { row: number; cells: readonly string[] },
  decimalComma: boolean,
): ReadCells {
  const { table, file, columns } = layout;
  const faults: TableFault[] = [];
  const fault = (column: string | undefined, words: FaultWords) =>
    void faults.push(tableFault(file, { row, column }, words));
  if (cells.some((cell) => cell.includes('\0')))
    return {
      entries: [],
      faults: [
        tableFault(
          file,
          { row },
          {
            code: 'nul-character',
            found: 'a NUL character',
            todo: 'Save the table as “CSV UTF-8” and send that file; or write this row again.',
          },
        ),
      ],
    };
  if (cells.length !== columns.length) fault(undefined, ragged(cells, columns));
  cells.forEach((cell, at) => {
    if (faults.length >= MOST_FAULTS) return;
    if (at < columns.length && columns[at] === undefined && !layout.refused.has(at) && cell.trim() !== '')
      fault(`number ${at + 1}`, {
        code: 'cell-without-name',
        found: shown(cell),
        todo: 'Give this column a name in the first line, or empty the cell.',
      });
  });
  const shape = shapeIn(table, layout, cells);
  const implied: Implied[] = [];
  const own = columns.flatMap((column, at): Entry[] => {
    const place = column && placeOf(column, shape);
    if (!column || !place) return [];
    const cell = cells[at] ?? '';
    if (cell.trim() === '') return [{ column, place, value: undefined }];
    const text = bare(cell);
    const word = column.implies?.[text.toLowerCase()];
    if (word) implied.push({ by: column, text, ...word });
    const hidden = hiddenIn(text);
    if (hidden) {
      fault(column.name, hidden);
      return [{ column, place, value: text }];
    }
    let read = readCell(column, text, decimalComma);
    if ('wrong' in read && read.wrong.code === 'not-a-number') {
      const whole = wholeIn(column, text, { decimalComma });
      if (whole && 'others' in whole)
        implied.push(...whole.others.map((other) => ({ by: column, text, ...other })));
      read = whole ?? read;
    }
    if ('value' in read) return [{ column, place, value: read.value }];
    fault(column.name, { found: shown(text), ...read.wrong });
    return [{ column, place, value: text }];
  });
  const { entries, faults: against } = withImplied(table, own, implied, { file, row });
  return { entries, faults: [...faults, ...against] };
}

/** The cells of a row, and what holds where it states nothing itself. */
export function withUsual(table: Table, stated: readonly Entry[], usual: Fields = {}): readonly Entry[] {
  return Object.entries(usual).reduce<readonly Entry[]>((entries, [field, value]) => {
    const column = table.columns.find((each) => placeOf(each, '')?.join() === field);
    const own = entries.find((entry) => entry.column === column);
    if (!column || own?.value !== undefined) return entries;
    return [...entries.filter((entry) => entry !== own), { column, place: [field], value }];
  }, stated);
}

function ragged(cells: readonly string[], columns: Layout['columns']): FaultWords {
  const fewer = cells.length < columns.length;
  return {
    code: 'ragged-row',
    found: `${cells.length} cells`,
    limit: `${columns.length} cells, as many as there are columns`,
    todo: fewer
      ? 'Write a separator for each empty cell too.'
      : `${splitPrice(cells, columns)}Put a cell that holds a separator in quotes: "Tail lamp, left".`,
  };
}

/** A hint where a price with a decimal comma may have become two cells: 3 and 20. */
function splitPrice(cells: readonly string[], columns: Layout['columns']): string {
  const at = columns.findIndex(
    (column, index) =>
      column?.kind === 'form' &&
      /^\s*\d+$/.test(cells[index] ?? '') &&
      /^\d{2}\s*$/.test(cells[index + 1] ?? ''),
  );
  if (at < 0) return '';
  const [whole, parts] = [cells[at]?.trim(), cells[at + 1]?.trim()];
  return `If ${whole},${parts} is a price, write ${whole}.${parts}. `;
}

function shapeIn({ shape, columns }: Table, layout: Layout, cells: readonly string[]): string {
  const column = shape === undefined ? undefined : columns.find((each) => placeOf(each, '')?.[0] === shape);
  const at = column ? layout.columns.indexOf(column) : -1;
  return column && at >= 0 ? wordOf(column, bare(cells[at] ?? '')) : '';
}

function wordOf({ words }: Column, text: string): string {
  return words?.[text.toLowerCase()] ?? unspaced(text);
}

/** What a cell that is not empty says. */
export function readCell(column: Column, text: string, decimalComma: boolean): Read<unknown> {
  const { unit } = column;
  switch (column.kind) {
    case 'text':
      return { value: text };
    case 'word':
      return { value: wordOf(column, text) };
    case 'number':
      return numberIn(text, { unit, decimalComma });
    case 'digits':
      return digitsIn(text, { unit, decimalComma });
    case 'yesNo':
    case 'present':
      return yesNoIn(text);
    case 'day':
      return dayIn(text);
    case 'form':
      return /^[{[]/.test(text) ? jsonIn(column, text) : { value: text };
  }
}

function jsonIn({ example }: Column, text: string): Read<unknown> {
  const json = readJson(text, { depth: JSON_DEPTH, values: MOST_VALUES });
  if ('value' in json) return { value: json.value };
  if ('findings' in json) {
    const [first] = json.findings;
    if (first)
      return { wrong: { code: first.code, limit: first.limit ?? 'texts without it', todo: first.todo } };
  }
  const wrong: Misread = {
    code: 'not-json',
    limit: 'JSON, or the short form',
    todo: `A cell that begins with ${text.charAt(0)} is read as JSON, and this is none. Correct it${example === undefined ? '' : `, or write the short form, such as ${example}`}.`,
  };
  return { wrong };
}

/**
 * The document of a row: what its cells say, over what stands already where `base` is given. Columns that the file does not
 * have stay as they are; an empty cell takes away what was there. What is wrong in a cell that has others beside it is told
 * in `faults`.
 */
export function documentOf(
  table: Table,
  entries: readonly Entry[],
  context: ShortContext,
  base?: Fields,
): { document: Fields; faults: { column: Column; words: FaultWords }[] } {
  const { shape } = table;
  const stated = shape === undefined ? undefined : entries.find(({ place }) => place[0] === shape)?.value;
  const changesShape =
    base !== undefined && shape !== undefined && stated !== undefined && stated !== base[shape];
  const document: Fields = base === undefined || changesShape ? {} : structuredClone(base);
  const faults: { column: Column; words: FaultWords }[] = [];
  for (const { column, place, value } of entries) {
    if (column.parts || column.kind === 'present') continue;
    if (value === undefined) takeAway(document, place);
    else put(document, place, value);
  }
  for (const { column, place, value } of entries) {
    if (column.kind === 'present') {
      const inner = entries.some((each) => each.value !== undefined && isBelow(each.place, place));
      if (value === true && !isFields(valueAt(document, place))) put(document, place, {});
      else if (value === false || (value === undefined && !inner)) takeAway(document, place);
    } else if (column.parts) {
      const wrong = putWithParts(document, { column, place, value }, column.parts, context);
      if (wrong) faults.push({ column, words: wrong });
    }
  }
  for (const column of table.columns) {
    const place = column.otherwise && placeOf(column, '');
    if (!place || valueAt(document, place) !== undefined) continue;
    const value = column.otherwise?.(document);
    if (value !== undefined) put(document, place, value);
  }
  return { document, faults };
}

const isBelow = (place: Place, above: Place) =>
  place.length > above.length && above.every((name, at) => name === place[at]);

/** A short form whose thing has fields in other columns too: read here, so that both can stand in one object. */
function putWithParts(
  document: Fields,
  { place, value }: Entry,
  { apart, short }: NonNullable<Column['parts']>,
  context: ShortContext,
): FaultWords | undefined {
  const own = valueAt(document, place);
  const kept = isFields(own) ? Object.entries(own).filter(([name]) => apart.includes(name)) : [];
  if (kept.length === 0) {
    if (value === undefined) takeAway(document, place);
    else put(document, place, value);
    return undefined;
  }
  const beside = Object.fromEntries(kept);
  if (typeof value !== 'string') {
    put(document, place, isFields(value) ? { ...value, ...beside } : beside);
    return undefined;
  }
  const reading = short.read(value, context);
  if (isWrong(reading)) {
    put(document, place, beside);
    return { code: reading.code, found: shown(value), todo: `${reading.todo}.` };
  }
  put(document, place, { ...(isFields(reading.value) ? reading.value : {}), ...beside });
  return undefined;
}
