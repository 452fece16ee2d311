import { stringify } from 'csv-stringify/sync';
import type { z } from 'zod';
import { canonicalJson } from '../engine/model/canonical.ts';
import { schemaAt } from '../engine/model/examples.ts';
import { parsed } from '../engine/model/parsed.ts';
import { scopeOf, type ShortContext } from '../engine/model/short/form.ts';
import { decimalText } from '../engine/model/short/numbers.ts';
import { guarded, spaced } from './cells.ts';
import { shapeOf, thingOf } from './check.ts';
import { isFields, placeOf, valueAt, type Column, type Fields, type Place } from './column.ts';
import type { Delimiter } from './records.ts';
import { same } from './same.ts';
import type { Table } from './tables.ts';

export interface WriteOptions {
  readonly delimiter?: Delimiter;
  /** What settles short forms, as it will when the file is read: the currency, decimal commas. */
  readonly context?: (document: Fields) => ShortContext;
  readonly columns?: readonly Column[];
}

/** Rows written out at once. */
const BATCH = 500;

/**
 * Things of a job as a table (RFC 4180, UTF-8 without its mark): a line of column names, one row a thing. In tables of looms
 * each document states its loom beside its own fields. Reading it gives the same things.
 */
export async function* tableText(
  table: Table,
  documents: AsyncIterable<Fields> | Iterable<Fields>,
  { delimiter = ',', context = () => ({}), columns = table.columns }: WriteOptions = {},
): AsyncGenerator<string> {
  const text = (rows: string[][]) => stringify(rows, { delimiter, record_delimiter: '\r\n' });
  let rows = [columns.map(({ name }) => name)];
  for await (const document of documents) {
    rows.push(cellsOf(table, columns, document, context(document)).map(guarded_));
    if (rows.length < BATCH) continue;
    yield text(rows);
    rows = [];
  }
  if (rows.length > 0) yield text(rows);
}

const guarded_ = (cell: string | undefined) => (cell === undefined ? '' : guarded(cell));

/** What stands in each column for a thing, before it is guarded; undefined: nothing. */
export function cellsOf(
  table: Table,
  columns: readonly Column[],
  document: Fields,
  around: ShortContext,
): (string | undefined)[] {
  const shape = shapeOf(table, document);
  const context = scopeOf(table.schema)?.scope(thingOf(table, document), around).context ?? around;
  return columns.map((column) => {
    const place = placeOf(column, shape);
    const value = place && valueAt(document, place);
    return place && value !== undefined
      ? cellText(table, column, { document, place, value }, context)
      : undefined;
  });
}

function cellText(
  table: Table,
  column: Column,
  { document, place, value }: { document: Fields; place: Place; value: unknown },
  context: ShortContext,
): string | undefined {
  switch (column.kind) {
    case 'text':
    case 'day':
      return String(value);
    case 'digits':
    case 'number':
      return decimalText(String(value), context);
    case 'yesNo':
      return value === true ? 'yes' : 'no';
    case 'present':
      return 'yes';
    case 'word':
      return spaced(String(value));
    case 'form':
      return formText(table, column, { document, place, value }, context);
  }
}

/** The short form where it is read back as the same, else JSON. */
function formText(
  table: Table,
  column: Column,
  { document, place, value: whole }: { document: Fields; place: Place; value: unknown },
  context: ShortContext,
): string | undefined {
  const value =
    column.parts && isFields(whole)
      ? Object.fromEntries(Object.entries(whole).filter(([name]) => !column.parts?.apart.includes(name)))
      : whole;
  if (isFields(value) && Object.keys(value).length === 0 && column.parts) return undefined;
  const json = JSON.stringify(value);
  if (!column.short || !mayBeShort(value)) return json;
  const schema = schemaAt(table.schema, place, thingOf(table, document)) as z.ZodType | undefined;
  if (!schema) return json;
  const readsBack = (short: string): boolean => {
    if (short.trim() !== short || short === '' || /^[{[]/.test(short)) return false;
    const read = parsed(schema, short, context);
    return read.success && same(read.data, value);
  };
  return [column.short(value as never, context)].flat().find(readsBack) ?? json;
}

/** A colour without its base has letters alone. */
const mayBeShort = (value: unknown) => !isFields(value) || !('tracer' in value) || 'base' in value;

/** The columns in which any of these things say something, and that are not what an empty cell means. */
export function usedColumns(table: Table, documents: Iterable<Fields>): readonly Column[] {
  const used = new Set<Column>(table.columns.filter(({ needed }) => needed));
  const usual = new Map<string, boolean>();
  for (const document of documents) {
    const shape = shapeOf(table, document);
    for (const column of table.columns) {
      if (used.has(column)) continue;
      const place = placeOf(column, shape);
      const value = place && valueAt(document, place);
      if (!place || value === undefined) continue;
      if (
        isFields(value) &&
        column.parts &&
        Object.keys(value).every((name) => column.parts?.apart.includes(name))
      )
        continue;
      const key = `${shape} ${column.name} ${canonicalJson(value)}`;
      if (!usual.has(key)) usual.set(key, isUsual(table, column, place, document));
      if (usual.get(key) === false) used.add(column);
    }
  }
  return table.columns.filter((column) => used.has(column));
}

/** Whether a thing is the same where this is not stated. */
function isUsual(table: Table, { kind }: Column, place: Place, document: Fields): boolean {
  if (!['word', 'number', 'yesNo'].includes(kind)) return false;
  const thing = thingOf(table, document);
  const without = structuredClone(thing);
  const [last = '', ...above] = place.toReversed();
  const around = valueAt(without, above.toReversed());
  if (isFields(around)) delete around[last];
  const read = table.schema.safeParse(without);
  return read.success && same(read.data, thing);
}
