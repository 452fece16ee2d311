/**
 * One way in for every table: preview and import are the same call, with and without `write`.
 *
 *   const summary = await importTable({
 *     table: tableOf('offers'),
 *     bytes: request.body,                       // any chunks; memory is bounded by a row, not by the file
 *     options: { decimalComma: false, context: () => ({ currency: 'GBP' }) },
 *     existing: async (keys) => new Map(…),      // up to 500 keys at once: the key to the thing as it is stored
 *     check: async (things) => ({ rows }),       // optional: faults that only the caller can see, such as unknown codes
 *     write: async (things) => {…},              // left out: a preview
 *   });
 *
 * A key is the thing's code; of a fit "from relation to"; of a thing of a loom "loom/id" where the row names its loom, else
 * its id; rows of tables without a key are all new. A row that is faulty is left out, and the others are kept; with
 * `allOrNothing` none is written unless all are good: they are held until the end. What stands in columns that the file does
 * not have stays as it is; an empty cell takes away what was there. Where a file cannot be read on (`complete` is false),
 * what came before is as in any other file: written, unless all or nothing is asked.
 *
 * With `whole` the file is a list as a whole: it is worked at once at its end, `check` and `write` get what is unchanged
 * too, in order, and nothing is written unless all is good.
 */
import type { Finding } from '../engine/model/finding.ts';
import { fewFindings } from '../engine/model/mostFindings.ts';
import type { ShortContext } from '../engine/model/short/form.ts';
import { checked, inTable, pathOf, shapeOf, thingOf } from './check.ts';
import { valueAt, placeOf, type Column, type Fields } from './column.ts';
import { documentOf, entriesOf, withUsual, type Entry } from './rows.ts';
import { settleEnds } from './ends.ts';
import type { Layout } from './header.ts';
import { missingColumns } from './header.ts';
import { readTable, type FileOptions } from './readTable.ts';
import { same } from './same.ts';
import { shown, tableFault, type TableFault } from './tableFault.ts';
import type { Table } from './tables.ts';
import { cellsOf } from './write.ts';

export interface ImportOptions extends FileOptions {
  readonly allOrNothing?: boolean;
  /** How many rows the summary tells of, faulty ones first. */
  readonly details?: number;
  /** Fields of the thing that hold for rows that do not state their own. */
  readonly usual?: Fields;
  /** What settles short forms, for things of this loom. */
  readonly context?: (loom: string | undefined) => ShortContext;
}

export interface Thing {
  readonly key: string;
  readonly row: number;
  readonly loom?: string;
  /** In long form, with all defaults. */
  readonly thing: Fields;
  /** The thing as it was stored; undefined: it is new. */
  readonly before: object | undefined;
  readonly result: 'new' | 'changed' | 'unchanged';
}

/** What a caller has against things. Pointers lead from the thing, those of the file from wherever the caller's lead. */
export interface Against {
  readonly rows: ReadonlyMap<number, readonly Finding[]>;
  readonly file?: readonly Finding[];
}

export interface ImportRequest {
  readonly table: Table;
  readonly bytes: AsyncIterable<Uint8Array>;
  readonly options?: ImportOptions;
  readonly existing?: (keys: readonly string[]) => Promise<ReadonlyMap<string, object>>;
  /** The things as they are to be stored, in their order, where that is not as they are read. */
  readonly asMeant?: (things: readonly Fields[]) => Promise<readonly Fields[]>;
  /** Of a table whose rows have no names: whether a thing is there already. Asked once for each row. */
  readonly isThere?: (thing: Fields) => boolean;
  readonly check?: (things: readonly Thing[], faults: number) => Promise<Against>;
  readonly whole?: boolean;
  readonly write?: (things: readonly Thing[]) => Promise<void>;
}

export interface Change {
  readonly column: string;
  readonly from: string;
  readonly to: string;
}

export interface RowResult {
  readonly row: number;
  readonly key: string;
  readonly result: 'new' | 'changed' | 'unchanged' | 'fault';
  readonly changes?: readonly Change[];
  readonly faults?: readonly Finding[];
}

export interface ImportSummary {
  readonly new: number;
  readonly changed: number;
  readonly unchanged: number;
  /** Faulty rows. */
  readonly faults: number;
  /** What is wrong with the file as a whole. */
  readonly file: readonly Finding[];
  /** Whether the file was read to its end. */
  readonly complete: boolean;
  /** Whether what is new and changed was written. */
  readonly written: boolean;
  /** The first rows in detail, faulty ones before all others. */
  readonly rows: readonly RowResult[];
}

const BATCH = 500;
/** So many rows take a few milliseconds. */
const FEW_ROWS = 50;
const NOTHING: Against = { rows: new Map() };
const DETAILS = 200;

type Compared =
  { told: Omit<RowResult, 'row' | 'key'>; thing: Thing } | { told: Omit<RowResult, 'row' | 'key'> };

/** A row as it was read, before it is compared with what there is. */
type Read = { faults: readonly Finding[] } | { loom: string | undefined; thing: Fields };

interface Draft {
  layout: Layout;
  row: number;
  cells: readonly string[];
  entries: readonly Entry[];
  key: string;
  faults: TableFault[];
}

/** Reads a table, compares it with what there is, and writes what is new or changed where that is asked. */
export async function importTable(request: ImportRequest): Promise<ImportSummary> {
  const run = new Import(request);
  let events = 0;
  for await (const event of readTable(request.table, request.bytes, request.options)) {
    if ('layout' in event) run.begin(event);
    else if ('end' in event) run.ends(event.end);
    else if ('fault' in event) run.skip(event);
    else await run.take(event);
    if (run.isOver) break;
    if (++events % FEW_ROWS === 0) await request.options?.pause?.();
  }
  return run.summary();
}

class Import {
  readonly #request: ImportRequest;
  readonly #options: ImportOptions;
  readonly #counts = { new: 0, changed: 0, unchanged: 0, faults: 0 };
  readonly #file: Finding[] = [];
  readonly #faulty: RowResult[] = [];
  readonly #good: RowResult[] = [];
  readonly #seen = new Map<string, number>();
  #drafts: Draft[] = [];
  #held: Thing[] = [];
  #layout: Layout | undefined;
  #complete = true;

  constructor(request: ImportRequest) {
    this.#request = request;
    this.#options = request.options ?? {};
  }

  begin({ layout, row, faults }: { layout: Layout; row: number; faults: readonly TableFault[] }): void {
    this.#layout = layout;
    const { table } = layout;
    const missing = missingColumns(layout, row);
    // What exists already may be changed by a file that has only its key and what changes.
    const needed = this.#request.existing
      ? missing.filter(({ column }) => table.key.includes(column ?? ''))
      : missing;
    if (faults.length + needed.length > 0) this.ends([...faults, ...needed]);
  }

  ends(faults: readonly TableFault[]): void {
    for (const { finding } of faults) this.#file.push(finding);
    this.#complete = false;
  }

  /** A row that could not be parted into cells. */
  skip({ row, fault }: { row: number; fault: TableFault }): void {
    this.#tell({ row, key: '' }, { result: 'fault', faults: [fault.finding] });
  }

  get isOver(): boolean {
    return !this.#complete;
  }

  async take({ row, cells }: { row: number; cells: readonly string[] }): Promise<void> {
    const layout = this.#layout;
    if (!layout) return;
    const { entries: stated, faults } = entriesOf(
      layout,
      { row, cells },
      this.#options.decimalComma ?? false,
    );
    const entries = withUsual(layout.table, stated, this.#options.usual);
    // Of a row whose cells may stand in the wrong columns nothing else is said.
    if (faults.some(({ column }) => column === undefined)) {
      this.#tell({ row, key: '' }, { result: 'fault', faults: faults.map(({ finding }) => finding) });
      return;
    }
    const key = keyOf(layout.table, documentOf(layout.table, entries, {}).document);
    const first = key === '' ? undefined : this.#seen.get(key);
    if (first !== undefined) faults.push(again(layout, row, key, first));
    else if (key !== '') this.#seen.set(key, row);
    this.#drafts.push({ layout, row, cells, entries, key, faults });
    if (this.#drafts.length >= BATCH && !this.#request.whole) await this.#work();
  }

  async summary(): Promise<ImportSummary> {
    await this.#work();
    const { details = DETAILS } = this.#options;
    const stopped = this.#isHeld && (this.#counts.faults > 0 || this.#file.length > 0);
    const { write } = this.#request;
    if (write && !stopped)
      if (this.#request.whole) await write(this.#held);
      else
        for (let at = 0; at < this.#held.length; at += BATCH) await write(this.#held.slice(at, at + BATCH));
    return {
      ...this.#counts,
      file: fewFindings(this.#file),
      complete: this.#complete,
      written: write !== undefined && !stopped,
      rows: [...this.#faulty.sort((a, b) => a.row - b.row), ...this.#good].slice(0, details),
    };
  }

  /** Whether nothing is written unless all is good. */
  get #isHeld(): boolean {
    return this.#request.whole ?? this.#options.allOrNothing ?? false;
  }

  /** Compares the rows in hand with what there is, and writes or holds them. */
  async #work(): Promise<void> {
    const drafts = this.#drafts;
    this.#drafts = [];
    const { existing, check, write, whole = false } = this.#request;
    if (drafts.length === 0 && !whole) return;
    const { table } = this.#request;
    const keys = [...new Set(drafts.flatMap(({ key }) => (key === '' ? [] : [key])))];
    const there = existing && table.key.length > 0 ? await existing(keys) : new Map<string, object>();
    const read: Read[] = [];
    for (const [at, draft] of drafts.entries()) {
      read.push(this.#read(draft, there.get(draft.key)));
      if (at % FEW_ROWS === 0) await this.#options.pause?.();
    }
    const meant = await this.#meant(read);
    const things: Compared[] = [];
    for (const [at, draft] of drafts.entries()) {
      const one = meant[at];
      if (one) things.push(this.#compared(draft, one, there.get(draft.key)));
      if (at % FEW_ROWS === 0) await this.#options.pause?.();
    }
    const sound = things.flatMap((each) =>
      'thing' in each && (whole || each.thing.result !== 'unchanged') ? [each.thing] : [],
    );
    const faulty = this.#counts.faults + this.#file.length + things.filter(({ told }) => told.faults).length;
    const wrong = check && (whole || sound.length > 0) ? await check(sound, faulty) : NOTHING;
    for (const finding of wrong.file ?? []) this.#file.push(finding);
    const toWrite: Thing[] = [];
    things.forEach((each, at) => {
      const draft = drafts[at];
      if (!draft) return;
      const own = wrong.rows.get(draft.row) ?? [];
      if (own.length > 0) {
        const { document } = documentOf(table, draft.entries, {});
        const faults = own.map((finding) =>
          inTable(draft.layout, { ...draft, document }, finding, pathOf(finding.at)),
        );
        this.#tell(draft, { result: 'fault', faults: faults.map(({ finding }) => finding) });
      } else {
        this.#tell(draft, each.told);
        if ('thing' in each && (whole || each.thing.result !== 'unchanged')) toWrite.push(each.thing);
      }
    });
    if (write && !this.#isHeld) {
      if (toWrite.length > 0) await write(toWrite);
    } else if (write) this.#held = this.#held.concat(toWrite);
  }

  #tell({ row, key }: Pick<Draft, 'row' | 'key'>, told: Omit<RowResult, 'row' | 'key'>): void {
    this.#counts[told.result === 'fault' ? 'faults' : told.result]++;
    const list = told.result === 'fault' ? this.#faulty : this.#good;
    if (list.length < (this.#options.details ?? DETAILS)) list.push({ row, key, ...told });
  }

  #contextOf(loom: string | undefined) {
    return { ...this.#options.context?.(loom), decimalComma: this.#options.decimalComma };
  }

  #read(draft: Draft, there: object | undefined): Read {
    const { layout, row, cells, entries } = draft;
    const { table } = layout;
    const loomEntry = table.ofLooms ? entries.find(({ place }) => place[0] === 'loom')?.value : undefined;
    const loom = typeof loomEntry === 'string' ? loomEntry : undefined;
    const context = this.#contextOf(loom);
    const { document, faults } = documentOf(table, entries, context, there as Fields | undefined);
    const wrong = [...faults, ...settleEnds(table, document, context)];
    const all = [
      ...draft.faults,
      ...wrong.map(({ column, words }) => tableFault(layout.file, { row, column: column.name }, words)),
    ];
    const read = checked(layout, { row, cells, document }, context);
    if ('faults' in read) {
      const told = new Set(all.map(({ column }) => column));
      all.push(...read.faults.filter(({ column }) => column === undefined || !told.has(column)));
    }
    if (all.length > 0 || 'faults' in read) return { faults: all.map(({ finding }) => finding) };
    return { loom, thing: read.thing };
  }

  /** What was read as it is to be stored, so that what is stored already counts as unchanged. */
  async #meant(read: readonly Read[]): Promise<readonly Read[]> {
    const { asMeant } = this.#request;
    if (!asMeant) return read;
    const things = await asMeant(read.flatMap((each) => ('thing' in each ? [each.thing] : [])));
    let next = 0;
    return read.map((each) => ('thing' in each ? { ...each, thing: things[next++] ?? each.thing } : each));
  }

  #compared({ layout: { table }, row, key }: Draft, read: Read, there: object | undefined): Compared {
    if ('faults' in read) return { told: { result: 'fault', faults: read.faults } };
    const { loom, thing } = read;
    const context = this.#contextOf(loom);
    const found = { key, row, ...(loom === undefined ? {} : { loom }), thing, before: there };
    if (!there) {
      const result = this.#request.isThere?.(thing) === true ? 'unchanged' : 'new';
      return { told: { result }, thing: { ...found, result } };
    }
    const before = thingOf(table, there as Fields);
    const changes = same(before, thing) ? [] : changesOf(table, before, thing, context);
    return changes.length === 0
      ? { told: { result: 'unchanged' }, thing: { ...found, result: 'unchanged' } }
      : { told: { result: 'changed', changes }, thing: { ...found, result: 'changed' } };
  }
}

function again(layout: Layout, row: number, key: string, first: number): TableFault {
  const [column] = layout.table.key.slice(-1);
  return tableFault(
    layout.file,
    { row, column: layout.table.key.length > 2 ? undefined : column },
    {
      code: 'duplicate-row',
      found: shown(key),
      todo: `This stands already in row ${first}. Keep one of the two rows, or give this one another name.`,
    },
  );
}

/** What names a row's thing; empty where the table has no names, or the row lacks its own. */
function keyOf(table: Table, document: Fields): string {
  const words = table.key.flatMap((name) => {
    const column = table.columns.find((each) => each.name === name);
    const value = column && valueAt(document, placeOf(column, '') ?? []);
    return typeof value === 'string' ? [value] : [];
  });
  const least = table.ofLooms ? table.key.length - 1 : table.key.length;
  return words.length < least ? '' : words.join(table.ofLooms ? '/' : ' ');
}

/** Column by column, what is no longer the same. */
function changesOf(table: Table, before: Fields, after: Fields, context: ShortContext): Change[] {
  const valueIn = (column: Column, document: Fields) => {
    const place = placeOf(column, shapeOf(table, document));
    return place && valueAt(document, place);
  };
  // Short forms are read back as they are written: only of what differs.
  const columns = table.columns.filter((column) => !same(valueIn(column, before), valueIn(column, after)));
  const [from, to] = [before, after].map((document) => cellsOf(table, columns, document, context));
  return columns.flatMap(({ name }, at) =>
    from?.[at] === to?.[at] ? [] : [{ column: name, from: from?.[at] ?? '', to: to?.[at] ?? '' }],
  );
}
