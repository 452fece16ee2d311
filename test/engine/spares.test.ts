import { expect, test } from 'vitest';
import { spares } from '../../worker/engine/loom/spares.ts';

const use = (used: number, sparePercent: number, spareMinimum: number) => ({
  used,
  sparePercent,
  spareMinimum,
});

test('the percentage counts where it comes to more than the minimum', () => {
  const { spares: count, step } = spares([use(50, 5, 1)]);
  expect(count).toBe(3);
  expect(step.text).toBe('5 % of 50 = 2.5 → 3, at least 1: 3 spare');
});

test('the minimum counts where the percentage comes to less', () => {
  expect(spares([use(3, 5, 4)]).spares).toBe(4);
});

test('a percentage that comes out whole is not rounded up further', () => {
  // In floating point 100 × 0.07 is 7.000000000000001.
  expect(spares([use(100, 7, 0)]).spares).toBe(7);
});

test('looms with different percentages are summed before the one rounding up', () => {
  // 5 % of 10 + 10 % of 5 = 0.5 + 0.5 = 1: rounded apart it would be 2.
  expect(spares([use(10, 5, 0), use(5, 10, 0)]).spares).toBe(1);
});

test('of several minimums the greatest holds', () => {
  expect(spares([use(1, 0, 1), use(1, 0, 3)]).spares).toBe(3);
});

test('no percentage and no minimum give no spares', () => {
  expect(spares([use(20, 0, 0)]).spares).toBe(0);
});
