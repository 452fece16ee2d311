import { faultsOf } from '../engine/model/faults.ts';
import type { Finding } from '../engine/model/finding.ts';
import { parsed } from '../engine/model/parsed.ts';
import type { ShortContext } from '../engine/model/short/form.ts';
import { placeOf, valueAt, type Column, type Fields, type Place } from './column.ts';
import { bare, DECIMAL_COMMA, spaced } from './cells.ts';
import type { Layout } from './header.ts';
import { shown, tableFault, type FaultWords, type TableFault } from './tableFault.ts';
import type { Table } from './tables.ts';

/** The shape of a row's thing, where its table has several. */
export function shapeOf({ shape }: Table, document: Fields): string {
  const value = shape === undefined ? undefined : document[shape];
  return typeof value === 'string' ? value : '';
}

/** A row's document without the loom that it belongs to. */
export function thingOf(table: Table, document: Fields): Fields {
  if (!table.ofLooms) return document;
  const { loom: _loom, ...thing } = document;
  return thing;
}

/** One row read by its table's schema: the thing, or what to fix by column. */
export function checked(
  layout: Layout,
  { row, cells, document }: { row: number; cells: readonly string[]; document: Fields },
  context: ShortContext,
): { thing: Fields } | { faults: TableFault[] } {
  const { table } = layout;
  const given = thingOf(table, document);
  const read = parsed(table.schema, given, context);
  if (read.success) return { thing: read.data as Fields };
  return {
    faults: faultsOf(read.error, given, table.schema).map((finding) =>
      inTable(layout, { row, cells, document }, finding, pathOf(finding.at)),
    ),
  };
}

/** The keys of a JSON Pointer (RFC 6901). */
export function pathOf(pointer: string): string[] {
  return pointer
    .split('/')
    .slice(1)
    .map((key) => key.replaceAll('~1', '/').replaceAll('~0', '~'));
}

/** What was found in a row's document, as a fault of its cell. `path` leads from the row's thing. */
export function inTable(
  layout: Layout,
  { row, cells, document }: { row: number; cells: readonly string[]; document: Fields },
  finding: Pick<Finding, 'code' | 'limit' | 'todo' | 'found'>,
  path: Place,
): TableFault {
  const { table, file, columns } = layout;
  const column = columnAt(table, shapeOf(table, document), path, document);
  const at = column ? columns.indexOf(column) : -1;
  const cell = bare(cells[at] ?? '');
  return tableFault(
    file,
    { row, column: column?.name },
    column
      ? inWords(column, finding, { there: at >= 0, cell, shape: spaced(shapeOf(table, document)) })
      : { code: finding.code, found: finding.found, ...stated(finding.limit), todo: finding.todo },
  );
}

/** The column whose cell holds what a path leads to; else one that stands in what is missing there. */
function columnAt(table: Table, shape: string, path: Place, document: Fields): Column | undefined {
  let best: Column | undefined;
  let most = 0;
  for (const column of table.columns) {
    const place = placeOf(column, shape);
    if (!place || place.length <= most || !starts(path, place)) continue;
    [best, most] = [column, place.length];
  }
  const below = table.columns.filter((column) => {
    const place = placeOf(column, shape);
    return place !== undefined && place.length > path.length && starts(place, path);
  });
  // A column that holds the whole is meant where nothing is there yet.
  if (best && (most === path.length || below.length === 0)) return best;
  return (
    below.find((column) => column.needed || valueAt(document, placeOf(column, shape) ?? []) === undefined) ??
    best
  );
}

/** The column in whose cell what a path leads to stands; undefined where it is the whole row, or no column has it. */
export function columnHolding({ table }: Layout, document: Fields, path: Place): Column | undefined {
  const shape = shapeOf(table, document);
  return table.columns
    .filter((column) => starts(path, placeOf(column, shape) ?? ['']))
    .sort((a, b) => (placeOf(b, shape)?.length ?? 0) - (placeOf(a, shape)?.length ?? 0))[0];
}

const starts = (path: Place, place: Place) => place.every((name, at) => name === path[at]);

const stated = (limit: string | undefined) => (limit === undefined ? {} : { limit });

function inWords(
  column: Column,
  { code, limit, todo, found }: Pick<Finding, 'code' | 'limit' | 'todo' | 'found'>,
  { there, cell, shape }: { there: boolean; cell: string; shape: string },
): FaultWords {
  const { name, says, example } = column;
  const such = example === undefined ? '' : ` For example: ${example}.`;
  const what = cell === '' ? (there ? 'an empty cell' : 'no such column') : shown(cell);
  if (code === 'missing-field')
    return {
      code,
      found: what,
      todo: `${there ? 'Fill in this cell' : `Add the column “${name}”`}. ${says}${such}`,
    };
  if (code === 'unknown-field' && shape !== '')
    return { code, found: what, todo: `Leave this cell empty: it is not used for “${shape}”. ${says}` };
  // What a thing is, its schema says in the name of the model's own field.
  const named = limit ?? / is one of: (.+)\.$/.exec(todo)?.[1];
  if (code === 'not-one-of' && column.kind === 'word' && named !== undefined) {
    const words = named.split(', ').map(spaced).join(', ');
    return { code, found: what, limit: words, todo: `Write one of: ${words}.` };
  }
  // A short form with a decimal comma that has one reading.
  const only = code === 'wrong-form' ? /^Write "([^"]+)"\.$/.exec(todo)?.[1] : undefined;
  if (only !== undefined && cell.includes(','))
    return { code, found: what, limit: only, todo: `Write ${only}. ${DECIMAL_COMMA}` };
  return { code, found: cell === '' ? found : what, ...stated(limit), todo };
}
