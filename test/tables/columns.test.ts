import { describe, expect, test } from 'vitest';
import type { z } from 'zod';
import { schemaTree, type SchemaTree } from '../../worker/engine/job/schemaTree.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { ABOUT_ENTRIES } from '../../worker/price/folder/about.ts';
import { spaced, unspaced } from '../../worker/tables/cells.ts';
import { placeOf, type Column } from '../../worker/tables/column.ts';
import { plainName } from '../../worker/tables/header.ts';
import { TABLE_NAMES, tableOf, type Table } from '../../worker/tables/tables.ts';

/** Where the leaves of a schema stand, with the shape of thing that has them; what is in a list counts as the list. */
function leaves(tree: SchemaTree, place: string[] = []): string[][] {
  if (tree.type === 'object')
    return [...tree.fields].flatMap(([name, field]) => leaves(field.tree, [...place, name]));
  if (tree.type === 'oneOf') return [...tree.shapes.values()].flatMap((inner) => leaves(inner, place));
  return [place];
}

const shapesOf = (table: Table): [shape: string, tree: SchemaTree][] => {
  const tree = schemaTree(table.schema);
  return tree.type === 'oneOf' ? [...tree.shapes] : [['', tree]];
};

const covers = (columns: readonly Column[], shape: string, leaf: readonly string[]) =>
  columns.some((column) => placeOf(column, shape)?.every((name, at) => name === leaf[at]));

describe.each(TABLE_NAMES.map((name) => [name, tableOf(name)] as const))('the table %s', (_name, table) => {
  test('has a column for every field of the model', () => {
    const without = shapesOf(table).flatMap(([shape, tree]) =>
      leaves(tree)
        .filter((leaf) => !covers(table.columns, shape, leaf))
        .map((leaf) => `${shape} ${leaf.join('.')}`),
    );
    expect(without).toEqual([]);
  });

  test('has no column that leads nowhere', () => {
    const all = shapesOf(table).flatMap(([shape, tree]) => leaves(tree).map((leaf) => ({ shape, leaf })));
    const idle = table.columns.filter(
      (column) =>
        !(table.ofLooms && column.name === 'loom') &&
        !all.some(({ shape, leaf }) => {
          const place = placeOf(column, shape);
          return (
            place !== undefined && place.every((name, at) => leaf[at] === undefined || name === leaf[at])
          );
        }),
    );
    expect(idle.map(({ name }) => name)).toEqual([]);
  });

  test('has names that are told apart however they are written, all in lower case', () => {
    const names = table.columns.flatMap(({ name, also = [] }) => [name, ...also]);
    expect(new Set(names.map(plainName)).size).toBe(names.length);
    expect(names.filter((name) => name !== name.toLowerCase())).toEqual([]);
  });
});

test('what is in no table has an entry of about.csv, or stands in rest.json', () => {
  const inTables = TABLE_NAMES.map((name) => tableOf(name)).map(({ list, ofLooms }) =>
    ofLooms ? `looms.${list}` : list,
  );
  const inRest = [
    'format',
    'version',
    'request',
    'unconfirmed',
    'doubtedFits',
    'looms.asOriginal',
    'looms.settings',
    'looms.optionsLeftOut',
  ];
  const job = schemaTree(Job);
  const looms = job.type === 'object' ? job.fields.get('looms')?.tree : undefined;
  const heads = looms?.type === 'list' ? leaves(looms.item, ['looms']) : [];
  const about = ABOUT_ENTRIES.map(({ at }) =>
    (at as readonly string[]).join('.').replace(/^loom\./, 'looms.'),
  );
  const said = [...inTables, ...inRest, ...about];
  const unsaid = [...leaves(job).filter(([first]) => first !== 'looms'), ...heads]
    .map((leaf) => leaf.join('.'))
    .filter((leaf) => !said.some((place) => leaf === place || leaf.startsWith(`${place}.`)));
  expect(heads.length).toBeGreaterThan(10);
  expect(unsaid).toEqual([]);
});

test('every fixed word of the model comes back from the words that are written for it', () => {
  const words = new Set<string>();
  const walk = (schema: z.core.$ZodType) => {
    const def = schema._zod.def as z.core.$ZodTypes['_zod']['def'];
    if (def.type === 'enum') for (const word of Object.values(def.entries)) words.add(String(word));
    else if (def.type === 'literal') for (const word of def.values) words.add(String(word));
    else if (def.type === 'object') Object.values(def.shape).forEach(walk);
    else if (def.type === 'union') def.options.forEach(walk);
    else if (def.type === 'array') walk(def.element);
    else if (def.type === 'optional' || def.type === 'default') walk(def.innerType);
  };
  for (const name of TABLE_NAMES) walk(tableOf(name).schema);
  expect(words.size).toBeGreaterThan(80);
  for (const word of words) expect(unspaced(spaced(word))).toBe(word);
});
