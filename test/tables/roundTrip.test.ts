import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { expanded } from '../../worker/engine/model/short/expand.ts';
import { guarded } from '../../worker/tables/cells.ts';
import type { Fields } from '../../worker/tables/column.ts';
import { layoutOf } from '../../worker/tables/header.ts';
import { documentOf, entriesOf } from '../../worker/tables/rows.ts';
import { TABLE_NAMES, tableOf, type Table } from '../../worker/tables/tables.ts';
import { cellsOf } from '../../worker/tables/write.ts';
import { arbitraryOf } from '../engine/arbitraryOfSchema.ts';

/** The row of a thing, read again. */
function again(table: Table, thing: Fields, decimalComma: boolean): unknown {
  const names = table.columns.map(({ name }) => name);
  const read = layoutOf(table, names, 1);
  if (!read.layout) throw new Error('the columns are not those of the table');
  const context = { currency: 'GBP', decimalComma };
  const cells = cellsOf(table, table.columns, thing, context).map((cell) =>
    cell === undefined ? '' : guarded(cell),
  );
  const { entries, faults } = entriesOf(read.layout, { row: 2, cells }, decimalComma);
  expect(faults).toEqual([]);
  const { document, faults: others } = documentOf(table, entries, context);
  expect(others).toEqual([]);
  return expanded(table.schema, document, context).document;
}

// A rate is digits in a text, of which arbitrary texts are none.
describe.each(TABLE_NAMES.filter((name) => name !== 'rates').map((name) => [name, tableOf(name)] as const))(
  'a row of %s',
  (_name, table) => {
    test('says every thing that the model can hold, and is read as just that', () => {
      fc.assert(
        fc.property(arbitraryOf(table.schema), fc.boolean(), (given, decimalComma) => {
          const thing = given as Fields;
          // A colour of which nothing is said is no colour.
          fc.pre(canonicalJson(thing['colour']) !== '{}');
          expect(canonicalJson(again(table, thing, decimalComma))).toBe(canonicalJson(thing));
        }),
        { numRuns: 150 },
      );
    });
  },
);

test('a row of parts keeps the numbers of others whatever signs stand in them', () => {
  const text = fc
    .array(fc.constantFrom('A', 'b', '7', '0', ' ', '  ', ':', ';', '-', '.', ',', '"', '=', '{', '['), {
      minLength: 1,
      maxLength: 8,
    })
    .map((signs) => signs.join(''))
    .filter((each) => each.trim() !== '');
  const table = tableOf('parts');
  fc.assert(
    fc.property(
      fc.array(fc.record({ whose: text, number: text }), { minLength: 1, maxLength: 4 }),
      fc.boolean(),
      (numbers, decimalComma) => {
        const thing = { kind: 'boot', code: 'boot-a', description: 'Boot', numbers };
        expect(canonicalJson(again(table, thing, decimalComma))).toBe(canonicalJson(thing));
      },
    ),
    { numRuns: 1_000 },
  );
});
