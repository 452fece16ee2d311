import { z } from 'zod';
import { spaced } from './cells.ts';
import type { Column } from './column.ts';
import { fileOf, TABLE_NAMES, tableOf, type TableName } from './tables.ts';

/** A field's columns by the table that has them. */
type Holders = Map<TableName, Set<string>>;

/** A name that no sentence has by chance: a capital stands inside it. */
export const FIELD = /(?<![\w.-])[a-z][a-z0-9]*(?:[A-Z][a-z0-9]*)+(?![\w-])/g;

const isField = (name: string) => name.match(FIELD)?.[0] === name;

/** Places of a column, of every shape. */
function placesIn({ at }: Column): readonly (readonly string[])[] {
  return Array.isArray(at)
    ? [at as readonly string[]]
    : Object.values(at as Record<string, readonly string[]>);
}

/** By the name of a field of the model: the columns that hold it. */
const COLUMNS: ReadonlyMap<string, Holders> = (() => {
  const found = new Map<string, Holders>();
  for (const name of TABLE_NAMES)
    for (const column of tableOf(name).columns)
      for (const place of placesIn(column))
        for (const field of place.filter(isField)) {
          const holders: Holders = found.get(field) ?? new Map<TableName, Set<string>>();
          found.set(field, holders.set(name, (holders.get(name) ?? new Set<string>()).add(column.name)));
        }
  return found;
})();

/** Fixed words of the model that a cell holds with spaces. */
const WORDS: ReadonlySet<string> = new Set(
  TABLE_NAMES.flatMap((name) =>
    wordsIn(z.toJSONSchema(tableOf(name).schema, { io: 'input', unrepresentable: 'any' })),
  ),
);

function wordsIn(schema: unknown): string[] {
  if (Array.isArray(schema)) return schema.flatMap(wordsIn);
  if (typeof schema !== 'object' || schema === null) return [];
  return Object.entries(schema).flatMap(([key, value]): string[] => {
    const words = key === 'enum' ? (value as unknown[]) : key === 'const' ? [value] : undefined;
    return words
      ? words.filter((word): word is string => typeof word === 'string' && isField(word))
      : wordsIn(value);
  });
}

/**
 * What a field of the model is called in the tables: “rated amps” (parts.csv); a fixed word as a cell holds it. Undefined
 * where no table has it. `table`: the one that is spoken of, where several have the field.
 */
export function fieldWords(field: string, table?: TableName): string | undefined {
  const holders = COLUMNS.get(field);
  if (!holders) return WORDS.has(field) ? `“${spaced(field)}”` : undefined;
  const own = table && holders.get(table);
  const of: [TableName, Set<string>][] = own ? [[table, own]] : [...holders];
  const names = new Set(of.flatMap(([, columns]) => [...columns]));
  const files = of.map(([name]) => fileOf(name)).join(', ');
  return `${[...names].map((name) => `“${name}”`).join(' or ')} (${files})`;
}
