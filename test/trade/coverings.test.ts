import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { braidShare, rangeShare } from '../../worker/engine/trade/braid.ts';

describe('a braid', () => {
  const table = [
    { openedToMm: 20, per100Mm: 70 },
    { openedToMm: 10, per100Mm: 90 },
  ];

  test('shortens as its table says, on a straight line between entries, and as the first under it', () => {
    expect([5, 10, 15, 20].map((d) => braidShare({ shortensTo: table }, d))).toEqual([0.9, 0.9, 0.8, 0.7]);
  });

  test('shortens beyond its table on its own curve, L² against D², never as little as at the last entry', () => {
    // L² is 0.81 at 10² and 0.49 at 20², 0.32 less for 300: at 22², 84 further, 0.49 − 0.0896 = 0.4004.
    expect(braidShare({ shortensTo: table }, 22)).toBeCloseTo(Math.sqrt(0.4004), 12);
    // One entry, 0.8 at 20 mm, and its rest of 10 mm: 0.36 less for 300; at 25², 225 further, 0.64 − 0.27.
    const one = { restDiameterMm: 10, shortensTo: [{ openedToMm: 20, per100Mm: 80 }] };
    expect(braidShare(one, 25)).toBeCloseTo(Math.sqrt(0.37), 12);
  });

  test('that states its range alone stands at 54.74° at the upper end, and lies as at the lower one', () => {
    const range = { holdsMinMm: 6, holdsMaxMm: 12 };
    // L² as shares of b²: 1 − ⅔ · (D/12)²: 5/6 at 6 mm, 5/8 at 9 mm, 1/3 at 12 mm.
    expect([4, 6].map((d) => rangeShare(range, d))).toEqual([1, 1]);
    expect(rangeShare(range, 9)).toBeCloseTo(Math.sqrt(3 / 4), 12);
    expect(rangeShare(range, 12)).toBeCloseTo(Math.sqrt(2 / 5), 12);
    // Without a lower end it is bought drawn out to its full length; a stated rest is its rest.
    expect(rangeShare({ holdsMaxMm: 12 }, 12)).toBeCloseTo(Math.sqrt(1 / 3), 12);
    expect(rangeShare({ ...range, restDiameterMm: 9 }, 12)).toBeCloseTo(Math.sqrt(8 / 15), 12);
    expect(rangeShare({ holdsMinMm: 6 }, 9)).toBeUndefined();
  });

  test('that states its angle and range lies at the lower end, or as much wider as lets it open to the upper one', () => {
    // 20° at 10 mm: at 20 mm sin θ = 2 sin 20°.
    const sin = Math.sin(Math.PI / 9);
    expect(rangeShare({ braidAngleDeg: 20, holdsMinMm: 10, holdsMaxMm: 20 }, 20)).toBeCloseTo(
      Math.sqrt((1 - 4 * sin ** 2) / (1 - sin ** 2)),
      12,
    );
    // 45° at 10 mm could not open to 20; it lies where 54.74° is at 20 mm: (1/3) ÷ (1/2).
    expect(rangeShare({ braidAngleDeg: 45, holdsMinMm: 10, holdsMaxMm: 20 }, 20)).toBeCloseTo(
      Math.sqrt(2 / 3),
      12,
    );
  });

  test('never grows as it is opened, and is never reckoned shorter than a tenth, whatever it states', () => {
    const mm = fc.double({ min: 0.5, max: 60, noNaN: true });
    const maybe = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
    const figures = fc.record({
      restDiameterMm: maybe(mm),
      braidAngleDeg: maybe(fc.double({ min: 1, max: 89, noNaN: true })),
      holdsMinMm: maybe(mm),
      holdsMaxMm: maybe(mm),
      shortensTo: maybe(
        fc
          .tuple(
            mm,
            mm,
            fc.double({ min: 10, max: 100, noNaN: true }),
            fc.double({ min: 0, max: 1, noNaN: true }),
          )
          .map(([a, b, per100Mm, less]) => [
            { openedToMm: Math.min(a, b), per100Mm },
            { openedToMm: Math.max(a, b), per100Mm: per100Mm * less + 0.1 * (1 - less) },
          ]),
      ),
    });
    fc.assert(
      fc.property(figures, mm, mm, (braid, a, b) => {
        for (const share of [braidShare, rangeShare]) {
          const [narrow, wide] = [share(braid, Math.min(a, b)), share(braid, Math.max(a, b))];
          expect(wide === undefined).toBe(narrow === undefined);
          if (narrow === undefined || wide === undefined) continue;
          expect(wide).toBeLessThanOrEqual(narrow + 1e-12);
          expect(wide).toBeGreaterThanOrEqual(0.1);
          expect(narrow).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  test('goes by its table before its angle, lies at rest over what is thinner, and says nothing where it states nothing', () => {
    const angle = { restDiameterMm: 10, braidAngleDeg: 30 };
    expect(braidShare({ ...angle, shortensTo: table }, 15)).toBe(0.8);
    expect(braidShare(angle, 4)).toBe(1);
    expect(braidShare({ restDiameterMm: 10 }, 12)).toBeUndefined();
  });

  test('is reckoned to shorten to a tenth at the most, also where it cannot open so far', () => {
    expect(braidShare({ restDiameterMm: 10, braidAngleDeg: 30 }, 25)).toBe(0.1);
  });
});
