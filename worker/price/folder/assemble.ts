import { JOB_FORMAT, JOB_VERSION } from '../../engine/model/job.ts';
import { settleEnds } from '../../tables/ends.ts';
import { isFields, valueAt, type Fields } from '../../tables/column.ts';
import { tableFault, type TableFault } from '../../tables/tableFault.ts';
import { fileOf, TABLE_NAMES, tableOf } from '../../tables/tables.ts';
import { contextIn, usualOf, type FolderContent, type FolderRow } from './readFolder.ts';

/** A job's document put together from a folder, with the row that each thing of it comes from. */
export interface Assembled {
  readonly document: Fields & { looms: Fields[]; parts: unknown[] };
  /** By the list's place, as in "looms/0/wires": row by row; a thing without one did not come from a table. */
  readonly origins: ReadonlyMap<string, readonly (FolderRow | undefined)[]>;
  readonly faults: readonly TableFault[];
  /** What was taken for granted, in words. */
  readonly notes: readonly string[];
}

export interface Given {
  /** The folder's name. */
  readonly folder: string;
  readonly asOf: string | undefined;
  readonly today: string;
}

/** A job of all that stands in a folder. What the tables leave out is filled in, and told in the notes. */
export function assemble(content: FolderContent, given: Given): Assembled {
  const { about, rest } = content;
  const { said } = about;
  const notes: string[] = [];
  const origins = new Map<string, (FolderRow | undefined)[]>();
  const faults: TableFault[] = [];
  const lists: Fields = {};
  for (const name of TABLE_NAMES) {
    const table = tableOf(name);
    const rows = content.tables.get(name);
    if (table.ofLooms || !rows) continue;
    lists[table.list] = rows.map(({ document }) => document);
    origins.set(table.list, [...rows]);
  }
  const looms = loomsOf(content, given, { origins, faults, notes });
  const quantity = said['quantity'];
  const request = isFields(rest['request'])
    ? rest['request']
    : { looms: looms.map(({ code }) => ({ loom: code, quantity: quantity ?? 1 })) };
  const currency = valueAt(said, ['club', 'currency']) ?? valueAt(rest, ['club', 'currency']);
  const document: Assembled['document'] = {
    ...rest,
    format: JOB_FORMAT,
    version: JOB_VERSION,
    asOf: given.asOf ?? said['asOf'] ?? rest['asOf'] ?? given.today,
    club: club(said, rest, currency ?? theirCurrency(lists['suppliers'], notes)),
    parts: [],
    suppliers: [],
    offers: [],
    ...offerDefaults(content),
    ...jobLists(rest),
    ...lists,
    looms,
    request,
  };
  return { document, origins, faults, notes };
}

/** The currency that about.csv says once for all offers. */
function offerDefaults({ about }: FolderContent): Fields {
  const { currency } = usualOf(about);
  return currency === undefined ? {} : { offerDefaults: { currency } };
}

/** Lists that rest.json has, of which there is no table. */
function jobLists(rest: Fields): Fields {
  return Object.fromEntries(
    TABLE_NAMES.map((name) => tableOf(name))
      .filter(({ ofLooms, list }) => !ofLooms && Array.isArray(rest[list]))
      .map(({ list }) => [list, rest[list]]),
  );
}

function club(said: Fields, rest: Fields, currency: unknown): Fields {
  const [own, before] = [said['club'], rest['club']].map((each) => (isFields(each) ? each : {}));
  const settings = { ...fieldsIn(before?.['settings']), ...fieldsIn(own?.['settings']) };
  return {
    ...before,
    ...own,
    currency,
    ...(Object.keys(settings).length > 0 ? { settings } : {}),
  };
}

const fieldsIn = (value: unknown): Fields => (isFields(value) ? value : {});

/** The one currency of all suppliers, else pounds. */
function theirCurrency(suppliers: unknown, notes: string[]): string {
  const stated = new Set(
    (Array.isArray(suppliers) ? (suppliers as unknown[]) : []).flatMap((supplier) => {
      const currency = isFields(supplier) ? supplier['currency'] : undefined;
      return typeof currency === 'string' ? [currency] : [];
    }),
  );
  const [only] = stated;
  const currency = stated.size === 1 && only !== undefined ? only : 'GBP';
  notes.push(
    stated.size > 1
      ? `The suppliers have several currencies, so the quote is in ${currency}. Say another as currency in about.csv.`
      : `The quote is in ${currency}. Say another as currency in about.csv.`,
  );
  return currency;
}

/** A folder's name as a code. */
function codeOf(folder: string): string {
  const plain = folder
    .normalize('NFKD')
    .replace(/[^A-Za-z0-9._-]+/g, '-')
    .replace(/^[^A-Za-z0-9]+|[-._]+$/g, '')
    .slice(0, 64);
  return plain === '' ? 'loom' : plain;
}

interface Told {
  origins: Map<string, (FolderRow | undefined)[]>;
  faults: TableFault[];
  notes: string[];
}

function loomsOf(content: FolderContent, { folder }: Given, told: Told): (Fields & { code: unknown })[] {
  const { about, rest, tables } = content;
  const heads = new Map<unknown, Fields & { code: unknown }>();
  for (const head of Array.isArray(rest['looms']) ? (rest['looms'] as unknown[]).filter(isFields) : [])
    heads.set(head['code'], { ...head, code: head['code'] });
  const own = about.said['loom'];
  const rows = TABLE_NAMES.filter((name) => tableOf(name).ofLooms).flatMap((name) => tables.get(name) ?? []);
  const named = [...new Set(rows.flatMap(({ document: { loom } }) => (loom === undefined ? [] : [loom])))];
  if (isFields(own) && own['code'] !== undefined && !heads.has(own['code']))
    heads.set(own['code'], { code: own['code'] });
  for (const code of named) if (!heads.has(code)) heads.set(code, { code });
  const [only] = heads.size === 0 ? [codeOf(folder)] : [...heads.keys()];
  if (heads.size === 0) heads.set(only, { code: only });
  const looms = [...heads.values()].map((head) => {
    const isOnly = heads.size === 1;
    const loom: Fields & { code: unknown } = { ...head, ...(isOnly ? fieldsIn(own) : {}), code: head.code };
    loom['name'] ??= isOnly ? folder : head.code;
    return loom;
  });
  if (heads.size > 1 && isFields(own))
    told.faults.push(
      ...about.faultsAt(['loom'], {
        code: 'several-looms',
        todo: `There are ${heads.size} looms here, so about.csv cannot say this of one. Write it in rest.json, in the loom’s entry under looms.`,
      }),
    );
  fill(content, looms, told);
  return looms;
}

/** Puts the rows of the tables into the looms that they name. */
function fill(content: FolderContent, looms: readonly (Fields & { code: unknown })[], told: Told): void {
  for (const name of TABLE_NAMES) {
    const table = tableOf(name);
    const rows = content.tables.get(name);
    if (!table.ofLooms || !rows) continue;
    for (const loom of looms) loom[table.list] = [];
    for (const row of rows) {
      const { loom: code, ...thing } = row.document;
      const at = code === undefined && looms.length === 1 ? 0 : looms.findIndex((loom) => loom.code === code);
      const loom = looms[at];
      if (!loom) {
        if (!row.lost)
          told.faults.push(
            tableFault(
              fileOf(name),
              { row: row.row, column: 'loom' },
              {
                code: 'which-loom',
                found: 'an empty cell',
                limit: looms.map((each) => String(each.code)).join(', '),
                todo: 'Name the loom to which this row belongs.',
              },
            ),
          );
        continue;
      }
      (loom[table.list] as Fields[]).push(thing);
      const place = `looms/${at}/${table.list}`;
      told.origins.set(place, [...(told.origins.get(place) ?? []), row]);
    }
  }
  for (const [at, loom] of looms.entries()) {
    const points = new Set(idsIn(loom['points']));
    const context = { ...contextIn(content.about, content.rest, String(loom.code)), points };
    const origins = told.origins.get(`looms/${at}/wires`) ?? [];
    (Array.isArray(loom['wires']) ? (loom['wires'] as Fields[]) : []).forEach((wire, index) => {
      const wrong = settleEnds(tableOf('wires'), wire, context);
      told.faults.push(
        ...wrong.map(({ column, words }) =>
          tableFault(fileOf('wires'), { row: origins[index]?.row, column: column.name }, words),
        ),
      );
    });
  }
}

export function idsIn(list: unknown): string[] {
  return (Array.isArray(list) ? (list as unknown[]) : []).flatMap((item) => {
    const id = isFields(item) ? item['id'] : undefined;
    return typeof id === 'string' ? [id] : [];
  });
}
