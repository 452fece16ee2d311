import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isFields, type Fields } from '../../tables/column.ts';
import { readTable } from '../../tables/readTable.ts';
import { documentOf, entriesOf } from '../../tables/rows.ts';
import { fileOf, tableOf } from '../../tables/tables.ts';

/** The parts of the catalogue in a folder, from parts.csv or parts.json; none where there is neither. */
export async function starterParts(folder: string): Promise<unknown[]> {
  return (await fromTable(folder)) ?? (await fromJson(folder)) ?? [];
}

async function fromTable(folder: string): Promise<Fields[] | undefined> {
  const table = tableOf('parts');
  const parts: Fields[] = [];
  try {
    let layout;
    for await (const event of readTable(table, createReadStream(join(folder, fileOf('parts'))))) {
      if ('layout' in event) layout = event.layout;
      else if ('cells' in event && layout)
        parts.push(documentOf(table, entriesOf(layout, event, false).entries, {}).document);
    }
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
  return parts;
}

async function fromJson(folder: string): Promise<unknown[] | undefined> {
  try {
    const read: unknown = JSON.parse(await readFile(join(folder, 'parts.json'), 'utf8'));
    const list = isFields(read) ? read['parts'] : read;
    return Array.isArray(list) ? (list as unknown[]) : undefined;
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
}

const isMissing = (error: unknown) => (error as NodeJS.ErrnoException).code === 'ENOENT';
