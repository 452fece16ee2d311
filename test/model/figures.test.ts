import fc from 'fast-check';
import { expect, test } from 'vitest';
import { figuresKept } from '../../worker/engine/model/figures.ts';

test('figures are whole minor units that say no more than is known, with the gap between', () => {
  const kept = figuresKept('GBP');
  // 12.3401 pence more than 12.34 is told as found up to 12.35, and a bound of 11.999 as 11.99.
  expect(kept({ best: 1234.01, bound: 1199.9 })).toEqual({
    currency: 'GBP',
    best: '12.35',
    bound: '11.99',
    // 0.36 of 12.35 is 2.91497… %, rounded up to four decimals.
    gapPercent: 2.915,
  });
  // The solver's noise is none.
  expect(kept({ best: 1230.0000000001, bound: 1229.9999999999 })).toEqual({
    currency: 'GBP',
    best: '12.30',
    bound: '12.30',
    gapPercent: 0,
  });
});

test('figures are none while no mix is known, and without a bound while there is none', () => {
  const kept = figuresKept('JPY');
  expect(kept({ best: undefined, bound: 500 })).toBeUndefined();
  expect(kept({ best: 700, bound: undefined })).toEqual({ currency: 'JPY', best: '700' });
});

test('figures never get worse, whatever comes, and the bound is never above the best', () => {
  const known = fc.record({
    best: fc.option(fc.double({ min: 0, max: 1e9, noNaN: true }), { nil: undefined }),
    bound: fc.option(fc.double({ min: -1e9, max: 1e9, noNaN: true }), { nil: undefined }),
  });
  fc.assert(
    fc.property(fc.array(known, { minLength: 2, maxLength: 20 }), (list) => {
      const kept = figuresKept('GBP');
      const told = list.flatMap((one) => kept(one) ?? []);
      told.forEach((figures, at) => {
        const before = told[at - 1];
        if (figures.bound !== undefined)
          expect(Number(figures.bound)).toBeLessThanOrEqual(Number(figures.best));
        if (!before) return;
        expect(Number(figures.best)).toBeLessThanOrEqual(Number(before.best));
        if (before.bound !== undefined && Number(before.bound) < Number(figures.best))
          expect(Number(figures.bound)).toBeGreaterThanOrEqual(Number(before.bound));
      });
    }),
  );
});
