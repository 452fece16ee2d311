import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { placeCuts, type ShelfLengths } from '../../worker/engine/model/planCut.ts';

const one = (code: string, lengthMm: number, count = 1): ShelfLengths => ({ code, lengthMm, count });

describe('the pieces of a cutting plan', () => {
  test('come out of the shortest length that holds them', () => {
    expect(placeCuts([[1200, 600]], [one('long', 5000), one('offcut', 1900), one('short', 1700)])).toEqual([
      { code: 'offcut', piecesMm: [1200, 600] },
    ]);
  });

  test('come out of several lengths where the supplier sent no length that holds all', () => {
    const cuts = placeCuts([[3000, 1000, 900]], [one('a', 3100), one('b', 2000)]);
    expect(cuts).toEqual([
      { code: 'a', piecesMm: [3000] },
      { code: 'b', piecesMm: [1000, 900] },
    ]);
  });

  test('are not cut where one of them does not fit', () => {
    expect(placeCuts([[3000, 1000]], [one('a', 2900, 5)])).toBeUndefined();
    expect(placeCuts([[10]], [one('a', 100, 0)])).toBeUndefined();
  });

  test('are all cut, and never more out of a length than it has', () => {
    const lengths = fc.array(
      fc.record({ lengthMm: fc.integer({ min: 1, max: 40 }), count: fc.integer({ min: 0, max: 3 }) }),
      { maxLength: 4 },
    );
    const bundles = fc.array(fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 3 }), {
      minLength: 1,
      maxLength: 3,
    });
    fc.assert(
      fc.property(bundles, lengths, (asked, has) => {
        const shelf = has.map((each, at) => ({ code: `c${at}`, ...each }));
        const cuts = placeCuts(asked, shelf);
        if (!cuts) return;
        expect(cuts.flatMap(({ piecesMm }) => piecesMm).sort()).toEqual(asked.flat().sort());
        for (const { code, lengthMm, count } of shelf) {
          const own = cuts.filter((cut) => cut.code === code);
          expect(own.length).toBeLessThanOrEqual(count);
          for (const { piecesMm } of own)
            expect(piecesMm.reduce((all, piece) => all + piece, 0)).toBeLessThanOrEqual(lengthMm);
        }
      }),
      { numRuns: 2000 },
    );
  });
});
