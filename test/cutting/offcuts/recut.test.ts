import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Filled, Length } from '../../../worker/engine/cutting/offcuts/lengths.ts';
import { recut } from '../../../worker/engine/cutting/offcuts/recut.ts';
import type { Pieces } from '../../../worker/engine/cutting/patterns.ts';
import { bestOfAll, faultsOf, isLess, judgedOf, mmOf, someCutting } from './everyCutting.ts';

/** Small cuttings that come out by first fit, with lengths off the shelf among them, and from what mm an offcut is kept. */
const recuttable = fc
  .record({
    unit: fc.constantFrom(1, 100),
    waves: fc.constantFrom(1, 1, 2),
    lengths: fc.array(
      fc.record({
        size: fc.integer({ min: 10, max: 45 }),
        more: fc.nat(1),
        count: fc.integer({ min: 1, max: 2 }),
        wave: fc.nat(1),
        own: fc.boolean(),
      }),
      { minLength: 1, maxLength: 3 },
    ),
    pieces: fc.array(fc.record({ size: fc.integer({ min: 2, max: 30 }), wave: fc.nat(1) }), {
      minLength: 2,
      maxLength: 7,
    }),
    keep: fc.nat(8),
  })
  .map(({ unit, waves, lengths: drawn, pieces: single, keep }) => {
    const lengths = drawn.map(({ size, more, count, wave, own }): Length => {
      return { usableMm: size * unit + more, count, wave: own ? 0 : wave % waves, own };
    });
    const pieces: Required<Pieces>[] = [];
    for (const { size, wave: of } of single) {
      const [mm, wave] = [size * unit, of % waves];
      const same = pieces.find((piece) => piece.mm === mm && piece.wave === wave);
      if (same) same.count++;
      else pieces.push({ mm, count: 1, wave });
    }
    pieces.sort((a, b) => b.mm - a.mm || a.wave - b.wave);
    return { lengths, pieces, keepMm: keep * unit, given: someCutting(lengths, pieces) };
  })
  .filter(({ given }) => given !== undefined);

const of = (usableMm: number, count: number, more: Partial<Length> = {}): Length => ({
  usableMm,
  count,
  wave: 0,
  own: false,
  ...more,
});
/** Single lengths with the mm of what comes out of each. */
const cutAs = (...filled: [length: number, pieces: number[]][]): Filled[] =>
  filled.map(([length, pieces]) => ({ length, times: 1, pieces: pieces.map((mm) => ({ mm, count: 1 })) }));
const offcuts = (lengths: readonly Length[], filled: readonly Filled[]) =>
  filled.flatMap(({ length, times, pieces }) =>
    Array<number>(times).fill((lengths[length]?.usableMm ?? 0) - mmOf(pieces)),
  );

describe('equal lengths and pieces are cut', () => {
  test('into the best of all cuttings where these are few: fewest opened, of these fewest bought, shortest, longest offcuts', () => {
    const decided = [0, 0, 0, 0];
    fc.assert(
      fc.property(recuttable, ({ lengths, pieces, keepMm, given = [] }) => {
        const { filled, best } = recut(lengths, given, keepMm);
        expect(faultsOf(lengths, filled, pieces)).toEqual([]);
        const judged = judgedOf(lengths, filled, keepMm);
        expect([best, judged]).toEqual([true, bestOfAll(lengths, pieces, keepMm)]);
        const before = judgedOf(lengths, given, keepMm);
        const at = judged.findIndex((value, index) => value !== before[index]);
        if (at >= 0) decided[Math.min(at, 3)] = (decided[Math.min(at, 3)] ?? 0) + 1;
      }),
      { seed: 20261127, numRuns: 300 },
    );
    // Each rule is what tells the two cuttings apart in some.
    for (const count of decided) expect(count).toBeGreaterThan(10);
  });

  test('never worse than they were, and whole, where the steps end early', () => {
    let early = 0;
    fc.assert(
      fc.property(recuttable, fc.nat(60), ({ lengths, pieces, keepMm, given = [] }, steps) => {
        const { filled, best } = recut(lengths, given, keepMm, steps);
        if (!best) early++;
        expect(faultsOf(lengths, filled, pieces)).toEqual([]);
        expect(isLess(judgedOf(lengths, given, keepMm), judgedOf(lengths, filled, keepMm))).toBe(false);
      }),
      { seed: 1127, numRuns: 200 },
    );
    expect(early).toBeGreaterThan(20);
  });

  // By hand: of 3 × 5 m and 12.2 m of pieces; 2900 + 2100 and 2600 + 2400 fill two of them to the end.
  test('with one long offcut in place of three short ones', () => {
    const lengths = [of(5000, 3)];
    const given = cutAs([0, [2900, 1000]], [0, [2600, 1200]], [0, [2400, 2100]]);
    expect(offcuts(lengths, given)).toEqual([1100, 1200, 500]);
    expect(offcuts(lengths, recut(lengths, given, 300).filled)).toEqual([0, 0, 2800]);
    // No more than 2800 is left: from 3 m on nothing is worth keeping, and nothing changes.
    const asGiven = [...offcuts(lengths, given)].sort((a, b) => a - b);
    expect(offcuts(lengths, recut(lengths, given, 3000).filled)).toEqual(asGiven);
  });

  // By hand: of 3 × 1 m and 2200 mm of pieces; 400 alone leaves 600, and the rest goes in pairs of 900 and 900, of 920 and
  // 880, or of 980 and 820.
  test('with the second offcut as long as it can be beside the longest', () => {
    const lengths = [of(1000, 3)];
    const given = cutAs([0, [400]], [0, [500, 400]], [0, [480, 420]]);
    const { filled, best } = recut(lengths, given, 10);
    expect([best, offcuts(lengths, filled)]).toEqual([true, [20, 180, 600]]);
  });

  test('from one length where all come out of it, and the others stay whole', () => {
    const lengths = [of(5000, 3)];
    const { filled } = recut(lengths, cutAs([0, [2000]], [0, [1500]], [0, [1500]]), 300);
    expect(filled.map(({ times, pieces }) => [times, mmOf(pieces)])).toEqual([[1, 5000]]);
  });

  test('off the shelf before a new length, where that opens no more of them', () => {
    const lengths = [of(2000, 1, { own: true }), of(5000, 2)];
    const isOpened = (...pieces: number[][]) =>
      recut(lengths, cutAs(...pieces.map((each): [number, number[]] => [1, each])), 300).filled.map(
        ({ length, times }) => [length, times],
      );
    expect(isOpened([1900])).toEqual([[0, 1]]);
    expect(isOpened([1900, 1900], [1900])).toEqual([
      [0, 1],
      [1, 1],
    ]);
    // All of it comes out of one new length.
    expect(isOpened([1900, 1900])).toEqual([[1, 1]]);
  });

  test('out of the shorter length, so that the longer one stays whole', () => {
    const lengths = [of(10_000, 1), of(5000, 1)];
    expect(recut(lengths, cutAs([0, [3000, 1000]]), 300).filled.map(({ length }) => length)).toEqual([1]);
  });

  test('with no piece of an early order out of what a later one brings', () => {
    const lengths = [of(1000, 1, { wave: 1 }), of(1200, 1, { wave: 2 })];
    const pieces = (wave: number, mm: number): Pieces => ({ mm, wave, count: 1 });
    const given: Filled[] = [
      { length: 0, times: 1, pieces: [pieces(1, 600)] },
      { length: 1, times: 1, pieces: [pieces(2, 400)] },
    ];
    // The later piece comes out of the first order's length; the earlier one could not come out of the second's.
    expect(recut(lengths, given, 100).filled).toEqual([
      { length: 0, times: 1, pieces: [pieces(1, 600), pieces(2, 400)] },
    ]);
  });
});
