import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { differencesOf } from '../../api/load/differences.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';

const told = (stored: unknown, given: unknown) =>
  differencesOf(stored, given).map(({ where, stored: ours, given: theirs }) => [where, ours, theirs]);

describe('the fields in which two documents differ', () => {
  test('are told by their names, with the values in words', () => {
    expect(
      told(
        { code: 'a', note: 'Mine', fragile: true, price: { amount: '0.39', currency: 'GBP' } },
        { code: 'a', fragile: false, price: { amount: '0.42', currency: 'GBP' }, sizeMm: 8 },
      ),
    ).toEqual([
      ['fragile', 'yes', 'no'],
      ['price', '0.39 GBP', '0.42 GBP'],
      ['sizeMm', 'nothing', '8'],
      ['note', '“Mine”', 'nothing'],
    ]);
  });

  test('of things in a list are told by the names of these, wherever they stand in it', () => {
    const [one, two, three] = [1, 2, 3].map((n) => ({ id: `W${n}`, from: { point: 'p' }, mm: n }));
    expect(told({ wires: [one, two] }, { wires: [three, { ...two, from: { point: 'q' } }] })).toEqual([
      ['wire W3', 'nothing', 'id “W3”, from point “p”, mm 3'],
      ['wire W2, from, point', '“p”', '“q”'],
      ['wire W1', 'id “W1”, from point “p”, mm 1', 'nothing'],
    ]);
    expect(told({ branches: [one, two] }, { branches: [two, one] })).toEqual([
      ['branches, their order', 'W1, W2', 'W2, W1'],
    ]);
  });

  test('of things without names are told by their places; of plain values, by the whole list', () => {
    const band = (from: number, charge: string) => ({ from, charge: { amount: charge, currency: 'GBP' } });
    expect(told({ bands: [band(0, '3.95')] }, { bands: [band(0, '4.10'), band(40, '0.00')] })).toEqual([
      ['band number 1, charge', '3.95 GBP', '4.10 GBP'],
      ['band number 2', 'nothing', 'from 40, charge 0.00 GBP'],
    ]);
    expect(told({ options: ['RHD'] }, { options: [] })).toEqual([['options', '“RHD”', 'nothing in it']]);
  });

  test('are told without what a terminal would obey, and a long text is cut', () => {
    const [[, , given]] = told({ note: 'a' }, { note: `\u001b[2J${'x'.repeat(500)}` }) as [string[]];
    expect(given).toMatch(/^“ \[2Jx+…”$/);
    expect(given?.length).toBeLessThan(110);
  });

  test('are none where two documents are the same, and at least one where they are not', () => {
    const document = fc.dictionary(
      fc.constantFrom('id', 'part', 'list', 'size'),
      fc.jsonValue({ maxDepth: 3 }),
    );
    fc.assert(
      fc.property(document, document, (stored, given) => {
        const same = canonicalJson(stored) === canonicalJson(given);
        expect(differencesOf(stored, given).length > 0).toBe(!same);
        expect(differencesOf(stored, structuredClone(stored))).toEqual([]);
      }),
    );
    const thing = fc.record({ id: fc.constantFrom('a', 'b', 'c'), mm: fc.nat(2) });
    fc.assert(
      fc.property(fc.array(thing), fc.array(thing), (stored, given) => {
        expect(differencesOf({ wires: stored }, { wires: given }).length > 0).toBe(
          canonicalJson(stored) !== canonicalJson(given),
        );
      }),
    );
  });
});
