import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import type { Fields } from '../../tables/column.ts';
import { readTable } from '../../tables/readTable.ts';
import { documentOf, entriesOf } from '../../tables/rows.ts';
import { fileOf, tableOf } from '../../tables/tables.ts';
import type { Starter } from './files.ts';

/** The starter catalogue in a folder: parts.csv and fits.csv; an empty list where there is none. */
export async function starterCatalogue(folder: string): Promise<Starter> {
  return { parts: await listIn(folder, 'parts'), fits: await listIn(folder, 'fits') };
}

async function listIn(folder: string, list: keyof Starter): Promise<Fields[]> {
  const table = tableOf(list);
  const found: Fields[] = [];
  try {
    let layout;
    for await (const event of readTable(table, createReadStream(join(folder, fileOf(list))))) {
      if ('layout' in event) layout = event.layout;
      else if ('cells' in event && layout)
        found.push(documentOf(table, entriesOf(layout, event, false).entries, {}).document);
    }
  } catch (error) {
    if (isMissing(error)) return [];
    throw error;
  }
  return found;
}

const isMissing = (error: unknown) => (error as NodeJS.ErrnoException).code === 'ENOENT';
