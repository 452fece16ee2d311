import { readFileSync } from 'node:fs';
import type { Fit } from '../../worker/engine/model/fit.ts';
import type { Part, WirePart } from '../../worker/engine/model/part.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { importTable } from '../../worker/tables/importTable.ts';
import { tableOf, type TableName } from '../../worker/tables/tables.ts';
import { bytesOf } from '../tables/bytes.ts';

/** A table of the starter catalogue as it is written. */
export const written = (name: TableName) =>
  readFileSync(new URL(`../../examples/starter/${name}.csv`, import.meta.url), 'utf8');

/** The same as it is read; throws Error where a row has a fault. */
async function read(name: TableName): Promise<Fields[]> {
  const things: Fields[] = [];
  const summary = await importTable({
    table: tableOf(name),
    bytes: bytesOf(written(name)),
    write: async (batch) => void things.push(...batch.map(({ thing }) => thing)),
  });
  const faults = [...summary.file, ...summary.rows.flatMap((row) => row.faults ?? [])];
  if (faults.length > 0) throw new Error(faults.map(({ where, todo }) => `${where}: ${todo}`).join('\n'));
  return things;
}

export const parts = (await read('parts')) as unknown as Part[];
export const fits = (await read('fits')) as unknown as Fit[];

export const wires = parts.filter((part): part is WirePart => part.kind === 'wire');
export const ofKind = <K extends Part['kind']>(kind: K) =>
  parts.filter((part): part is Extract<Part, { kind: K }> => part.kind === kind);

const byCode = new Map(parts.map((part) => [part.code, part]));

/** Throws Error where the catalogue has no such part. */
export function partOf(code: string): Part {
  const part = byCode.get(code);
  if (!part) throw new Error(`the starter catalogue has no part ${code}`);
  return part;
}
