import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import type { Fields } from '../../tables/column.ts';
import { readTable } from '../../tables/readTable.ts';
import { documentOf, entriesOf } from '../../tables/rows.ts';
import { fileOf, tableOf } from '../../tables/tables.ts';

/** The parts of the catalogue in a folder, from parts.csv; none where there is none. */
export async function starterParts(folder: string): Promise<unknown[]> {
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
    if (isMissing(error)) return [];
    throw error;
  }
  return parts;
}

const isMissing = (error: unknown) => (error as NodeJS.ErrnoException).code === 'ENOENT';
