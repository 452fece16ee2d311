import { z } from 'zod';
import { Finding } from '../../worker/engine/model/finding.ts';
import type { ImportSummary, RowResult } from '../../worker/tables/importTable.ts';

const count = z.int().min(0);

const Row = z.strictObject({
  row: z.int().meta({ description: 'Counted as a spreadsheet does: the first line is row 1.' }),
  code: z.string().meta({ description: 'What the row is of; empty where it has no name.' }),
  result: z.enum(['new', 'changed', 'unchanged', 'fault']),
  changes: z.array(z.strictObject({ column: z.string(), before: z.string(), after: z.string() })).optional(),
  faults: z
    .array(
      z.strictObject({
        row: z.int().optional(),
        column: z.string().optional(),
        code: z.string().meta({ description: 'A fixed word for the kind of fault.' }),
        found: z.string(),
        expected: z.string().optional(),
        todo: z.string(),
      }),
    )
    .optional(),
});

const counted = {
  written: z.boolean().meta({ description: 'Whether what is good was written.' }),
  new: count,
  changed: count,
  unchanged: count,
  faults: count.meta({ description: 'How many rows have faults.' }),
  complete: z.boolean().meta({ description: 'Whether the file was read to its end.' }),
  file: z.array(Finding).meta({ description: 'What is wrong with the file as a whole.' }),
  rows: z.array(Row).meta({ description: 'The first rows, those with faults before all others.' }),
};

/** What came of a table of the catalogue. */
export const TableImport = z
  .strictObject({
    ...counted,
    wires: z
      .strictObject({ added: count, codes: z.array(z.string()).meta({ description: 'The first 200.' }) })
      .meta({ description: 'Wire parts that offers name by size and colour and that were not there yet.' }),
  })
  .meta({ id: 'TableImport' });
export type TableImport = z.infer<typeof TableImport>;

/** What came of a list of a loom. */
export const ListImport = z
  .strictObject({
    ...counted,
    removed: count.meta({ description: 'How many things of the list are not in the file.' }),
    removedCodes: z
      .array(z.string())
      .meta({ description: 'The first 200 of them, where things of this list have names.' }),
    revision: z.int().meta({ description: 'The latest revision after this call.' }),
  })
  .meta({ id: 'ListImport' });
export type ListImport = z.infer<typeof ListImport>;

/** A summary as it is answered. */
export function presentSummary({ rows, file, ...counts }: ImportSummary, written: boolean) {
  return { ...counts, written, file: [...file], rows: rows.map(presentRow) };
}

function presentRow({ row, key, result, changes, faults }: RowResult): z.infer<typeof Row> {
  return {
    row,
    code: key,
    result,
    ...(changes
      ? { changes: changes.map(({ column, from, to }) => ({ column, before: from, after: to })) }
      : {}),
    ...(faults ? { faults: faults.map((fault) => presentFault(fault, row)) } : {}),
  };
}

/** The pointer of a table's fault is its row and, where it is one of a cell, its column. */
function presentFault({ code, at, found, limit, todo }: Finding, row: number) {
  const [, , column] = at.split('/');
  return {
    row,
    ...(column === undefined ? {} : { column: column.replaceAll('~1', '/').replaceAll('~0', '~') }),
    code,
    found,
    ...(limit === undefined ? {} : { expected: limit }),
    todo,
  };
}
