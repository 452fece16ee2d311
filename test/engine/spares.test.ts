import { expect, test } from 'vitest';
import { spares, startedFor } from '../../worker/engine/loom/counts/spares.ts';

const use = (used: number, sparePercent: number, spareMinimum: number, chance = [0, 0]) => ({
  used,
  sparePercent,
  spareMinimum,
  crimpFailurePercent: chance[0] ?? 0,
  spareConfidencePercent: chance[1] ?? 0,
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

// The number to start with for a confidence, as tables of the binomial give it: summed apart by hand of the formula
// P(good ≥ k) = Σ C(n, j) p^(n−j) q^j, and so stated in a list of worked cases.
test.each([
  [100, 2, 95, 105],
  [50, 3, 95, 54],
  [200, 1, 99, 206],
  [24, 5, 90, 27],
])('to have %i good where %i %% fail, %i %% sure, start with %i', (good, failing, sure, started) => {
  expect(startedFor(good, failing, sure)).toBe(started);
});

test('it is not one more where the chance comes out even', () => {
  // Of three of which each fails in ten, all fail in a thousand: the one good is 99.9 % sure.
  expect(startedFor(1, 10, 99.9)).toBe(3);
  // Of 35 of which half fail, 18 are good as often as not.
  expect(startedFor(18, 50, 50)).toBe(35);
  expect(startedFor(1, 5, 95)).toBe(1);
});

test('it is the smallest number that is enough', () => {
  const atLeast = (good: number, n: number, fails: number) => {
    let sum = 0;
    for (let failed = 0; failed <= n - good; failed += 1) {
      let ways = 1;
      for (let i = 0; i < failed; i += 1) ways = (ways * (n - i)) / (i + 1);
      sum += ways * fails ** failed * (1 - fails) ** (n - failed);
    }
    return sum;
  };
  for (const good of [1, 2, 3, 7, 20, 60])
    for (const failing of [0.5, 2, 10, 40])
      for (const sure of [50, 90, 95, 99]) {
        const n = startedFor(good, failing, sure);
        expect(atLeast(good, n, failing / 100)).toBeGreaterThanOrEqual(sure / 100);
        if (n > good) expect(atLeast(good, n - 1, failing / 100)).toBeLessThan(sure / 100);
      }
});

test('the chance counts where it comes to more than percentage and minimum, and is told', () => {
  const { spares: count, step } = spares([use(24, 5, 1, [5, 90])]);
  expect(count).toBe(3);
  expect(step.text).toBe('5 % of 24 = 1.2 → 2, 3 to be 90 % sure where 5 % fail, at least 1: 3 spare');
});
