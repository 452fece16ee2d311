import { z } from 'zod';
import { Invalid } from '../../db/errors.ts';
import { pointer, type Finding } from '../../worker/engine/model/finding.ts';
import { fewFindings } from '../../worker/engine/model/mostFindings.ts';
import type { ShortContext } from '../../worker/engine/model/short/form.ts';
import { pathOf } from '../../worker/tables/check.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { importTable } from '../../worker/tables/importTable.ts';
import type { Table } from '../../worker/tables/tables.ts';
import { breather } from '../http/breather.ts';
import { readingOf, reading, type OffersQuery } from './query.ts';
import { unstorableIn } from './storable.ts';

const { decimalComma, separator } = reading;

/** How a table in the place of a body is read. */
export const TableReading = z.strictObject({ decimalComma, separator });

/** Findings of one entry, as pointers from it. */
export type Faults = ReadonlyMap<number, readonly Finding[]>;

interface Asked {
  table: Table;
  bytes: Buffer;
  query: Pick<OffersQuery, 'decimalComma' | 'separator'>;
  context: ShortContext;
  /** What else is wrong with the rows that can be read, by their index among these. */
  check: (rows: readonly Fields[]) => Promise<Faults>;
}

/** All that is told of a table at once. */
const MOST_TOLD = 200;

/** The rows of a table that is taken whole or not at all. Error: Invalid with all its faults, by row and column. */
export async function rowsOf({ table, bytes, query, context, check }: Asked): Promise<readonly Fields[]> {
  let rows: readonly Fields[] = [];
  const { file, rows: told } = await importTable({
    table,
    bytes: (async function* () {
      yield* [bytes];
    })(),
    options: { ...readingOf(query), context: () => context, pause: breather(), details: MOST_TOLD },
    whole: true,
    check: async (things, faults) => {
      const byRow = new Map<number, readonly Finding[]>(unstorableIn(things));
      // A table of too many rows is not worth a look at each.
      if (byRow.size > 0 || (faults > 0 && things.length >= table.mostRows)) return { rows: byRow };
      const found = await check(things.map(({ thing }) => thing));
      things.forEach(({ row }, index) => {
        const findings = found.get(index);
        if (findings) byRow.set(row, findings);
      });
      return { rows: byRow };
    },
    write: async (things) => void (rows = things.map(({ thing }) => thing)),
  });
  const faults = [...file, ...told.flatMap(({ faults: own = [] }) => own)].map((fault) =>
    fault.code === 'empty-file' ? { ...fault, todo: begins(table) } : fault,
  );
  if (faults.length === 0 && rows.length === 0) faults.push(noRows(table));
  if (faults.length > 0) throw new Invalid(fewFindings(faults));
  return rows;
}

const begins = ({ columns }: Table) =>
  `Begin the file with a line of column names: ${columns.map(({ name }) => name).join(', ')}.`;

const noRows = ({ name, says }: Table): Finding => ({
  code: 'no-rows',
  severity: 'stop',
  at: '',
  where: `${name}.csv`,
  found: 'no row below the column names',
  todo: `Fill in the rows. ${says}`,
});

/** Findings of a list in a body, by the index of its entries, each as a pointer from its entry. */
export function byEntry(findings: readonly Finding[], list: string): Map<number, Finding[]> {
  const found = new Map<number, Finding[]>();
  for (const finding of findings) {
    const [name, index = '', ...path] = pathOf(finding.at);
    if (name !== list) continue;
    found.set(Number(index), [...(found.get(Number(index)) ?? []), { ...finding, at: pointer(path) }]);
  }
  return found;
}
