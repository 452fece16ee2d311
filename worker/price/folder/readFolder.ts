import { bare } from '../../tables/cells.ts';
import { isFields, valueAt, type Fields } from '../../tables/column.ts';
import { editDistance, nearestName } from '../../engine/model/nearest.ts';
import { textOf } from '../../tables/decode.ts';
import { missingColumns, plainName, type Layout } from '../../tables/header.ts';
import { readTable } from '../../tables/readTable.ts';
import { recordsOf } from '../../tables/records.ts';
import { documentOf, entriesOf, withUsual } from '../../tables/rows.ts';
import { shown, tableFault, Unreadable, type FaultWords, type TableFault } from '../../tables/tableFault.ts';
import { fileOf, TABLE_NAMES, tableOf, type TableName } from '../../tables/tables.ts';
import { LIMITS } from '../../engine/model/limits.ts';
import { JSON_DEPTH, readJson } from '../../engine/model/readJson.ts';
import type { ShortContext } from '../../engine/model/short/form.ts';
import { ABOUT, aboutOf, type About } from './about.ts';
import type { Folders } from './files.ts';

export const REST = 'rest.json';

/** One row of a table of the folder, with what is wrong in it. */
export interface FolderRow {
  readonly layout: Layout;
  readonly row: number;
  readonly cells: readonly string[];
  readonly document: Fields;
  /** Nothing of it can be used. */
  readonly lost: boolean;
}

/** What stands in a folder, file by file. */
export interface FolderContent {
  readonly about: About;
  readonly rest: Fields;
  readonly tables: ReadonlyMap<TableName, readonly FolderRow[]>;
  readonly faults: readonly TableFault[];
  /** Tables that could not be read to their end. */
  readonly cutShort: ReadonlySet<TableName>;
  /** Files of the folder that are not read. */
  readonly unread: readonly string[];
}

const NAMES: readonly string[] = [...TABLE_NAMES.map(fileOf), ABOUT, REST];

export const isOurs = (name: string) => NAMES.includes(name);

/** Reads all tables of a folder. What is wrong in one file keeps none of the others from being read. */
export async function readFolder(
  folder: string,
  names: readonly string[],
  files: Folders,
): Promise<FolderContent> {
  const faults: TableFault[] = [];
  const about = names.includes(ABOUT) ? await readAbout(files.open(folder, ABOUT)) : aboutOf([]);
  faults.push(...about.faults);
  const rest = names.includes(REST) ? await readRest(files.open(folder, REST), faults) : {};
  const contextOf = (loom: string | undefined) => contextIn(about, rest, loom);
  const tables = new Map<TableName, readonly FolderRow[]>();
  const cutShort = new Set<TableName>();
  for (const name of TABLE_NAMES) {
    if (!names.includes(fileOf(name))) continue;
    // Their currency is that of the job's list of offers.
    const { currency: _currency, ...usual } = name === 'offers' ? usualOf(about) : {};
    const { rows, ended, found } = await readRows(name, files.open(folder, fileOf(name)), contextOf, usual);
    tables.set(name, rows);
    faults.push(...found);
    if (ended) cutShort.add(name);
  }
  const others = names.filter((name) => !isOurs(name));
  for (const name of others) {
    const meant = nearestName(name, NAMES) ?? '';
    if (editDistance(name.toLowerCase(), meant) <= 2 && !names.includes(meant))
      faults.push(misnamed(name, meant));
  }
  return {
    about,
    rest,
    tables,
    faults,
    cutShort,
    unread: others.filter((name) => /\.(csv|json)$/i.test(name)),
  };
}

/** What settles short forms in the rows of a loom. */
export function contextIn(
  { said }: Pick<About, 'said'>,
  rest: Fields,
  loom: string | undefined,
): ShortContext {
  const heads = Array.isArray(rest['looms']) ? (rest['looms'] as unknown[]).filter(isFields) : [];
  const head =
    heads.find(({ code }) => code === loom) ??
    (heads.length === 1 && loom === undefined ? heads[0] : undefined);
  const system = valueAt(said, ['loom', 'colourSystem']) ?? head?.['colourSystem'];
  return {
    decimalComma: said['decimalComma'] === true,
    ...(typeof system === 'string'
      ? { colourSystem: system as NonNullable<ShortContext['colourSystem']> }
      : {}),
  };
}

async function readRows(
  name: TableName,
  bytes: AsyncIterable<Uint8Array>,
  contextOf: (loom: string | undefined) => ShortContext,
  usual: Fields,
) {
  const decimalComma = contextOf(undefined).decimalComma === true;
  const table = tableOf(name);
  const rows: FolderRow[] = [];
  const found: TableFault[] = [];
  let layout: Layout | undefined;
  let ended = false;
  for await (const event of readTable(table, bytes)) {
    if ('layout' in event) {
      layout = event.layout;
      found.push(
        ...event.faults,
        ...missingColumns(event.layout, event.row).filter(
          ({ column }) => !Object.hasOwn(usual, column ?? ''),
        ),
      );
      // Without their names the rows may be anything that others name.
      if (event.faults.length > 0 && !hasNames(event.layout)) ended = true;
    } else if ('end' in event) {
      found.push(...event.end);
      ended = true;
    } else if (layout) {
      const { row } = event;
      const cells = 'cells' in event ? event.cells : [];
      const read =
        'cells' in event
          ? entriesOf(layout, { row, cells }, decimalComma)
          : { entries: [], faults: [event.fault] };
      const entries = withUsual(table, read.entries, usual);
      const lost = read.faults.some(({ column }) => column === undefined);
      found.push(...read.faults);
      const loom = entries.find(({ place }) => table.ofLooms && place[0] === 'loom')?.value;
      const made = documentOf(table, entries, contextOf(typeof loom === 'string' ? loom : undefined));
      found.push(
        ...made.faults.map(({ column, words }) =>
          tableFault(fileOf(name), { row, column: column.name }, words),
        ),
      );
      rows.push({ layout, row, cells, document: lost ? {} : made.document, lost });
    }
  }
  return { rows, ended, found };
}

function hasNames({ table, columns }: Layout): boolean {
  return table.columns.every(
    (column) => !(column.needed && table.key.includes(column.name)) || columns.includes(column),
  );
}

/** What about.csv says of all offers. */
export const usualOf = ({ said }: Pick<About, 'said'>): Fields =>
  isFields(said['offers']) ? said['offers'] : {};

export async function readAbout(bytes: AsyncIterable<Uint8Array>): Promise<About> {
  const rows: { row: number; what: string; value: string }[] = [];
  const faults: TableFault[] = [];
  try {
    for await (const record of recordsOf(textOf(bytes))) {
      const { row } = record;
      const cells = 'cells' in record ? record.cells.map(bare) : [];
      const [what = '', value = ''] = cells;
      if (cells.every((cell) => cell === '') || what.startsWith('#')) continue;
      if (rows.length === 0 && plainName(what) === 'what') continue;
      if (cells.slice(2).some((cell) => cell !== ''))
        faults.push(
          tableFault(
            ABOUT,
            { row },
            {
              code: 'ragged-row',
              found: `${cells.length} cells`,
              limit: '2 cells: what, value',
              todo: 'Put a value that holds a separator in quotes: "main, front".',
            },
          ),
        );
      else rows.push({ row, what, value });
    }
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    faults.push(tableFault(ABOUT, { row: error.row }, error.words));
  }
  const about = aboutOf(rows);
  return { ...about, faults: [...faults, ...about.faults] };
}

async function readRest(bytes: AsyncIterable<Uint8Array>, faults: TableFault[]): Promise<Fields> {
  let text = '';
  try {
    for await (const chunk of textOf(bytes)) text += chunk;
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error;
    faults.push(tableFault(REST, {}, error.words));
    return {};
  }
  const json = readJson(text, { depth: JSON_DEPTH, values: LIMITS.bodyValues });
  const fault = (words: FaultWords) => void faults.push(tableFault(REST, {}, words));
  if ('value' in json) {
    if (isFields(json.value)) return json.value;
    fault({
      code: 'wrong-type',
      found: shown(text),
      limit: 'an object',
      todo: 'Begin it with { and end it with }.',
    });
  } else if ('findings' in json)
    for (const { code, where, found, limit, todo } of json.findings)
      fault({ code, found: `${where}: ${found}`, ...(limit === undefined ? {} : { limit }), todo });
  else if ('tooMany' in json)
    fault({
      code: 'too-big',
      found: `more than ${json.tooMany.most} values`,
      limit: `at most ${json.tooMany.most} values`,
      todo: 'Take out what is not needed.',
    });
  else
    fault({
      code: 'not-json',
      found:
        'empty' in json
          ? 'nothing'
          : `line ${json.notJson.line}, column ${json.notJson.column}: ${json.notJson.found}`,
      limit: 'JSON',
      todo: 'Correct it there; often a comma or a quote is missing or too much just before.',
    });
  return {};
}

function misnamed(name: string, meant: string): TableFault {
  return tableFault(
    name,
    {},
    {
      code: 'unknown-file',
      found: `a file called ${name}`,
      limit: NAMES.join(', '),
      todo: `Name it ${meant}, if that is what it is; else move it out of this folder.`,
    },
  );
}
