import { packEnclose } from 'd3-hierarchy';
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { bundleOf, bundles } from '../../worker/engine/trade/bundle.ts';
import { leastEnclosing, type Circle } from '../../worker/engine/trade/enclosing.ts';
import { packed } from '../../worker/engine/trade/packing.ts';

/** Birgin & Gentil 2010, table 1, reference column: R/r of N equal circles, N = 1 … 37. */
const BEST_KNOWN = [
  1, 2, 2.1547005, 2.4142136, 2.7013016, 3, 3, 3.3047649, 3.6131259, 3.8130256, 3.9238044, 4.0296019,
  4.236068, 4.3284286, 4.521357, 4.6154256, 4.7920337, 4.8637033, 4.8637033, 5.1223207, 5.2523175, 5.439719,
  5.5452042, 5.6516611, 5.7528243, 5.8281765, 5.9063978, 6.0149381, 6.1385979, 6.1977411, 6.2915026, 6.429463,
  6.4867031, 6.6109571, 6.6971711, 6.7467538, 6.7587705,
];

const circle = fc.record({
  x: fc.double({ min: -50, max: 50, noNaN: true }),
  y: fc.double({ min: -50, max: 50, noNaN: true }),
  r: fc.double({ min: 0.1, max: 20, noNaN: true }),
});
/** Outside diameters of wires, in tenths of a millimetre. */
const diameters = (minLength: number, maxLength: number) =>
  fc.array(
    fc.integer({ min: 8, max: 120 }).map((tenths) => tenths / 10),
    { minLength, maxLength },
  );

test('N equal wires are never laid tighter than the best packing known, and at most 8 % wider', () => {
  const ratios = BEST_KNOWN.map(
    (best, index) => (bundleOf(Array(index + 1).fill(1))?.packedMm ?? NaN) / best,
  );
  expect(
    ratios.map((ratio, index) => [index + 1, ratio]).filter(([, ratio = 0]) => ratio < 1 - 1e-7),
  ).toEqual([]);
  expect(ratios.map((ratio, index) => [index + 1, ratio]).filter(([, ratio = 9]) => ratio > 1.08)).toEqual(
    [],
  );
});

test('the least circle about circles is the one that d3-hierarchy finds', () => {
  fc.assert(
    fc.property(fc.array(circle, { minLength: 1, maxLength: 40 }), (circles) => {
      const ours = leastEnclosing(circles);
      const theirs = packEnclose(circles.map((item) => ({ ...item })));
      if (!ours) throw new Error('no circle');
      expect(Math.abs(ours.r - theirs.r)).toBeLessThan(1e-6 * theirs.r);
      expect(circles.every((item) => distance(item, ours) + item.r <= ours.r * (1 + 1e-9))).toBe(true);
    }),
    { numRuns: 600 },
  );
});

test('circles in a row, one within another, or twice in one place are enclosed too', () => {
  const at = (x: number, y: number, r: number): Circle => ({ x, y, r });
  expect(leastEnclosing([])).toBeUndefined();
  expect(leastEnclosing([at(0, 0, 1), at(4, 0, 1), at(8, 0, 1)])).toMatchObject({ x: 4, y: 0, r: 5 });
  expect(leastEnclosing([at(0, 0, 5), at(1, 0, 1)])).toEqual(at(0, 0, 5));
  expect(leastEnclosing([at(2, 3, 1), at(2, 3, 1)])).toEqual(at(2, 3, 1));
});

test('wires of mixed sizes overlap nowhere, and all lie within the circle', () => {
  fc.assert(
    fc.property(diameters(2, 60), (sizes) => {
      const radii = sizes.map((d) => d / 2).sort((a, b) => b - a);
      const { circles, around } = packed(radii);
      expect(circles.map(({ r }) => r).sort((a, b) => b - a)).toEqual(radii);
      circles.forEach((a, index) => {
        expect(distance(a, around) + a.r).toBeLessThanOrEqual(around.r * (1 + 1e-9));
        for (const b of circles.slice(index + 1))
          expect(distance(a, b)).toBeGreaterThanOrEqual((a.r + b.r) * (1 - 1e-9));
      });
    }),
    { numRuns: 100 },
  );
});

test('a bundle is no thinner than its wires’ area, its two thickest, or the rule, in whatever order they come', () => {
  fc.assert(
    fc.property(diameters(2, 80), fc.integer(), (sizes, turn) => {
      const bundle = bundleOf(sizes);
      if (!bundle) throw new Error('no bundle');
      const squares = sizes.reduce((sum, d) => sum + d * d, 0);
      const [first = 0, second = 0] = [...sizes].sort((a, b) => b - a);
      expect(bundle.packedMm).toBeGreaterThan(Math.sqrt(squares));
      expect(bundle.packedMm).toBeGreaterThanOrEqual((first + second) * (1 - 1e-9));
      expect(bundle.diameterMm).toBeGreaterThanOrEqual(bundle.packedMm);
      expect(bundle.diameterMm).toBeGreaterThanOrEqual(1.2 * Math.sqrt(squares) * (1 - 1e-9));
      const at = Math.abs(turn) % sizes.length;
      expect(bundles()([...sizes.slice(at), ...sizes.slice(0, at)])).toEqual(bundle);
    }),
    { numRuns: 100 },
  );
});

test('what lengths are reckoned from never shrinks for a wire more', () => {
  fc.assert(
    fc.property(diameters(1, 12), fc.integer({ min: 8, max: 120 }), (sizes, tenths) => {
      const more = bundleOf([...sizes, tenths / 10])?.steadyMm ?? NaN;
      expect(more).toBeGreaterThanOrEqual((bundleOf(sizes)?.steadyMm ?? NaN) * (1 - 1e-12));
    }),
    { numRuns: 300 },
  );
});

test('a single wire is as thick as it is; beyond sixty the bundle is called an estimate, no thinner than 60 of them', () => {
  expect(bundleOf([7.2])).toEqual({ packedMm: 7.2, diameterMm: 7.2, steadyMm: 7.2, how: 'exact' });
  expect(bundleOf([])).toBeUndefined();
  const sixty = bundleOf(Array(60).fill(2));
  const more = bundleOf(Array(61).fill(2));
  expect([sixty?.how, more?.how]).toEqual(['packed', 'estimate']);
  expect(more?.packedMm).toBeGreaterThanOrEqual(sixty?.packedMm ?? Infinity);
  // R/r of the curved hexagonal packing of 61: 1 + 1/sin(π/24) (Lubachevsky & Graham, arXiv math/0406098).
  expect((more?.packedMm ?? 0) / 2).toBeGreaterThan(1 + 1 / Math.sin(Math.PI / 24));
  expect((more?.packedMm ?? 99) / 2).toBeLessThan(1.08 * (1 + 1 / Math.sin(Math.PI / 24)));
});

function distance(a: Circle, b: Circle): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}
