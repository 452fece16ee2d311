import type { Job } from '../../engine/model/job.ts';
import { canonicalJson, documentText } from '../../engine/model/canonical.ts';
import type { ShortContext } from '../../engine/model/short/form.ts';
import type { Fields } from '../../tables/column.ts';
import { fileOf, TABLE_NAMES, tableOf, type Table } from '../../tables/tables.ts';
import { tableText, usedColumns } from '../../tables/write.ts';
import { ABOUT, aboutRows } from './about.ts';
import { REST } from './readFolder.ts';
import { stringify } from 'csv-stringify/sync';

export type NamedText = readonly [name: string, text: string];

/**
 * A job as the files of a folder, which read back as the same job: a table for each list that holds anything, about.csv for
 * what is said once, and rest.json for what no table has.
 */
export async function jobAsCsv(job: Job): Promise<NamedText[]> {
  const files: NamedText[] = [];
  const several = job.looms.length > 1;
  for (const name of TABLE_NAMES) {
    const table = tableOf(name);
    const documents = documentsOf(job, table, several);
    // A folder has its offers, if only the names of their columns.
    if (documents.length === 0 && name !== 'offers') continue;
    const columns = usedColumns(table, documents);
    let text = '';
    for await (const chunk of tableText(table, documents, { columns, context: contextIn(job, several) }))
      text += chunk;
    files.push([fileOf(name), text]);
  }
  const { about, rest } = headsOf(job, several);
  files.push([ABOUT, stringify([['what', 'value'], ...about], { record_delimiter: '\r\n' })]);
  if (Object.keys(rest).length > 0) files.push([REST, documentText(rest)]);
  return files;
}

function documentsOf(job: Job, table: Table, several: boolean): Fields[] {
  if (!table.ofLooms) return (job as unknown as Record<string, Fields[]>)[table.list] ?? [];
  return job.looms.flatMap((loom) =>
    ((loom as unknown as Record<string, Fields[]>)[table.list] ?? []).map((thing) =>
      several ? { loom: loom.code, ...thing } : thing,
    ),
  );
}

/** What settles short forms when the folder is read. */
function contextIn(job: Job, several: boolean): (document: Fields) => ShortContext {
  const systems = new Map(job.looms.map(({ code, colourSystem }) => [code, colourSystem]));
  const currencies = new Map(job.suppliers.map(({ code, currency }) => [code, currency]));
  const [only] = several ? [] : job.looms;
  return ({ loom }) => ({
    currency: job.club.currency,
    colourSystem: only?.colourSystem ?? (typeof loom === 'string' ? systems.get(loom) : undefined),
    currencyOf: (supplier) => currencies.get(supplier),
  });
}

/** All that is in no table: as about.csv says it, and what that cannot say. */
function headsOf(job: Job, several: boolean): { about: [string, string][]; rest: Fields } {
  const lists = new Set(
    TABLE_NAMES.map((name) => tableOf(name)).map(({ list, ofLooms }) => `${ofLooms} ${list}`),
  );
  const without = (document: object, ofLooms: boolean): Fields =>
    Object.fromEntries(Object.entries(document).filter(([name]) => !lists.has(`${ofLooms} ${name}`)));
  const {
    looms: _looms,
    request,
    club,
    asOf,
    format: _format,
    version: _version,
    ...others
  } = without(job, false);
  const heads = job.looms.map((loom) => headOf(without(loom, true)));
  const quantity = quantityOf(job);
  const said: Fields = {
    club,
    asOf,
    ...(several ? {} : { loom: heads[0] }),
    ...(quantity === undefined || quantity === 1 ? {} : { quantity }),
  };
  const { rows, rest } = aboutRows(said);
  const { loom, club: clubRest, asOf: _asOf, quantity: _quantity, ...none } = rest;
  const left = {
    ...others,
    ...none,
    ...(isEmpty(clubRest, ['settings']) ? {} : { club: clubRest }),
    ...(several
      ? { looms: heads }
      : isEmpty(loom, [])
        ? {}
        : { looms: [{ code: job.looms[0]?.code, ...(loom as object) }] }),
    ...(quantity === undefined ? { request } : {}),
  };
  return { about: rows, rest: left };
}

/** A loom without its lists, and without what stands there by itself when it is read. */
function headOf({ asOriginal, revision, ...head }: Fields): Fields {
  return {
    ...head,
    ...(revision === 1 ? {} : { revision }),
    ...(Array.isArray(asOriginal) && asOriginal.length === 0 ? {} : { asOriginal }),
  };
}

/** How many of each loom a request asks that asks nothing else; undefined of any other. */
function quantityOf({ looms, request }: Job): number | undefined {
  const quantity = request.looms[0]?.quantity;
  const plain = { looms: looms.map(({ code }) => ({ loom: code, quantity })) };
  return canonicalJson(plain) === canonicalJson(request) ? quantity : undefined;
}

/** Whether an object holds nothing, or only these fields with nothing in them. */
function isEmpty(value: unknown, fields: readonly string[]): boolean {
  return Object.entries((value ?? {}) as Fields).every(
    ([name, inner]) =>
      fields.includes(name) && typeof inner === 'object' && inner !== null && Object.keys(inner).length === 0,
  );
}
