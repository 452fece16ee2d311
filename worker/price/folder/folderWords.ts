import type { Finding } from '../../engine/model/finding.ts';
import { loomContent } from '../../engine/model/loom.ts';
import { requestShape } from '../../engine/model/request.ts';
import { FIELD, fieldWords } from '../../tables/fieldWords.ts';
import { fileOf, TABLE_NAMES, tableOf, type TableName } from '../../tables/tables.ts';
import { ABOUT, ABOUT_ENTRIES } from './about.ts';
import type { Assembled } from './assemble.ts';
import { REST, type FolderContent } from './readFolder.ts';

/** Says a sentence about a job in the words of its folder. `table`: the one that is spoken of. */
export type InWords = (
  text: string,
  about?: { table?: TableName | undefined; loom?: number | undefined },
) => string;

const ENTRIES = new Map(
  ABOUT_ENTRIES.map(({ name, at }) => [[...(at as readonly string[])].pop() ?? '', name]),
);
const IN_REST = new Set([...Object.keys(requestShape), ...Object.keys(loomContent)]);

/** A wire that an offer names in words comes into being with it. */
const ENTER_WIRE = 'Enter an offer for it, with the wire in words as its part';

/** Phrases of the messages that speak of a job file, and what a folder has instead. */
const PHRASES: readonly (readonly [said: string, instead: string])[] = [
  ['Add the wire and an offer for it', ENTER_WIRE],
  ['Add the wire to the catalogue and an offer for it', ENTER_WIRE],
  ['the catalogue part for', 'the part for'],
  ['accept this with a note', 'accept this with a note under asOriginal'],
  ['in the catalogue', 'in parts.csv or offers.csv'],
  ['to the catalogue', 'to parts.csv'],
  ...TABLE_NAMES.map((name) => [`add it to the ${name} or`, `add it to ${fileOf(name)} or`] as const),
];

/**
 * The words of a folder: fields by their columns, settings by their entries in about.csv, places in lists by their rows.
 * What the folder itself says, as a code that is spelled like a field, stays as it is.
 */
export function folderWords(content: FolderContent, { origins }: Pick<Assembled, 'origins'>): InWords {
  const own = ownTexts(content).join('\n');
  const ownFields = new Set(own.match(FIELD));
  const phrases = PHRASES.filter(([said]) => !own.includes(said));
  const rowAt = (list: string, index: number, loom: number): string | undefined => {
    const table = TABLE_NAMES.map(tableOf).find(
      (each) => each.list === list && (each.ofLooms || list !== 'parts'),
    );
    const row = table && origins.get(table.ofLooms ? `looms/${loom}/${list}` : list)?.[index];
    return row && `row ${row.row} of ${row.layout.file}`;
  };
  return (text, { table, loom = 0 } = {}) => {
    const told = phrases.reduce((words, [said, instead]) => words.replaceAll(said, instead), text);
    return told
      .replaceAll(/(?<![\w/.-])([a-z]+)\/(\d+)(?![\w/])/gi, (whole, list: string, index: string) =>
        own.includes(whole) ? whole : (rowAt(list, Number(index), loom) ?? whole),
      )
      .replaceAll(FIELD, (field) => (ownFields.has(field) ? field : (nameOf(field, table) ?? field)));
  };
}

function nameOf(field: string, table: TableName | undefined): string | undefined {
  const entry = ENTRIES.get(field);
  const column = fieldWords(field, table);
  if (column !== undefined) return column;
  if (entry !== undefined) return `“${entry}” (${ABOUT})`;
  return IN_REST.has(field) ? `${field} (${REST})` : undefined;
}

/** All that stands in the folder's cells. */
function ownTexts({ tables, rest, about }: FolderContent): string[] {
  return [
    ...[...tables.values()].flatMap((rows) => rows.flatMap(({ cells }) => cells)),
    ...textsIn(rest),
    ...textsIn(about.said),
  ];
}

function textsIn(value: unknown): string[] {
  if (typeof value === 'string') return [value];
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(textsIn) : [];
}

/** A fault with all its sentences in these words. */
export function inWords(finding: Finding, say: InWords, about?: Parameters<InWords>[1]): Finding {
  const { found, limit, todo, source } = finding;
  return {
    ...finding,
    found: say(found, about),
    ...(limit === undefined ? {} : { limit: say(limit, about) }),
    ...(source === undefined ? {} : { source: say(source, about) }),
    todo: say(todo, about),
  };
}
