import { describe, expect, test } from 'vitest';
import { braidShare } from '../../worker/engine/trade/braid.ts';

describe('a braid', () => {
  const table = [
    { openedToMm: 20, per100Mm: 70 },
    { openedToMm: 10, per100Mm: 90 },
  ];

  test('shortens as its table says, on a straight line between entries, and as the nearest beyond them', () => {
    expect([5, 10, 15, 20, 30].map((d) => braidShare({ shortensTo: table }, d))).toEqual([
      0.9, 0.9, 0.8, 0.7, 0.7,
    ]);
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
