import { createReadStream } from 'node:fs';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { isFields, type Fields } from '../../tables/column.ts';
import { readTable } from '../../tables/readTable.ts';
import { documentOf, entriesOf } from '../../tables/rows.ts';
import { fileOf, tableOf } from '../../tables/tables.ts';
import type { Starter } from './files.ts';

/** The starter catalogue in a folder: parts.csv or parts.json, fits.csv or fits.json; an empty list where there is neither. */
export async function starterCatalogue(folder: string): Promise<Starter> {
  return { parts: await listIn(folder, 'parts'), fits: await listIn(folder, 'fits') };
}

type List = keyof Starter;

async function listIn(folder: string, list: List): Promise<unknown[]> {
  return (await fromTable(folder, list)) ?? (await fromJson(folder, list)) ?? [];
}

async function fromTable(folder: string, list: List): Promise<Fields[] | undefined> {
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
    if (isMissing(error)) return undefined;
    throw error;
  }
  return found;
}

async function fromJson(folder: string, list: List): Promise<unknown[] | undefined> {
  try {
    const read: unknown = JSON.parse(await readFile(join(folder, `${list}.json`), 'utf8'));
    const found = isFields(read) ? read[list] : read;
    return Array.isArray(found) ? (found as unknown[]) : undefined;
  } catch (error) {
    if (isMissing(error)) return undefined;
    throw error;
  }
}

const isMissing = (error: unknown) => (error as NodeJS.ErrnoException).code === 'ENOENT';
