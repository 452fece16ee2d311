import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bandFor } from '../../worker/engine/sourcing/problem/pricing.ts';
import { lastThreshold, mostSaved, wholeBands } from '../../worker/engine/sourcing/problem/bands.ts';
import { limitsOf } from '../../worker/engine/sourcing/problem/limits.ts';
import type { Band, Choice, Requirement } from '../../worker/engine/sourcing/problem/problem.ts';

const bands = (...pairs: [from: number, charge: number][]): Band[] =>
  pairs.map(([from, charge], index) => {
    const next = pairs[index + 1];
    return {
      from: BigInt(from),
      below: next && BigInt(next[0]),
      fromMicrograms: 0,
      belowMicrograms: undefined,
      charge: BigInt(charge),
      rate: 1n,
      charges: [],
    };
  });

/** Goods of these prices, weightless. */
const goodsOf = (prices: bigint[], mostValue: bigint) => ({
  prices,
  weights: [],
  mostValue,
  mostMicrograms: 0,
});

/** One choice at a price that must give so many units, and the most that are thought of. */
function mostUnits(need: number, price: bigint, stated: Band[]): number {
  const choice: Choice = {
    offer: 'o',
    supplier: 0,
    wave: 1,
    form: 'pack',
    serves: [{ requirement: 0, each: 1 }],
    tiers: [{ fromUnits: 1, price }],
    step: 1,
    mostUnits: undefined,
    microgramsPerUnit: 0,
    piecesPerUnit: 1,
  };
  const requirement: Requirement = {
    id: 'r',
    need,
    how: 'sum',
    pieces: [],
    oneSupplier: false,
    when: undefined,
    choices: [0],
    patterns: undefined,
    ways: [],
  };
  return limitsOf(choice, { requirements: [requirement], covers: [{ each: 1, need }] }, stated).most;
}

describe('bands in whole grains', () => {
  test('end at the last multiple of the grain below the next band’s start', () => {
    // Prices 6 and 10: goods are multiples of 2. Below 15 the last is 14, at or above it the first is 16.
    expect(wholeBands(bands([0, 5], [15, 0]), goodsOf([6n, 10n], 40n))).toMatchObject({
      grain: 2n,
      bands: [
        { lower: 0n, upper: 7n, charge: 5n, cheaper: false },
        { lower: 8n, upper: 20n, charge: 0n, cheaper: true },
      ],
    });
  });

  test('that no goods can reach are left out', () => {
    expect(wholeBands(bands([0, 5], [50, 0]), goodsOf([6n], 40n)).bands).toHaveLength(1);
  });

  test('between which no multiple of the grain lies are left out', () => {
    expect(
      wholeBands(bands([0, 5], [11, 4], [19, 3]), goodsOf([20n], 100n)).bands.map(({ charge }) => charge),
    ).toEqual([5n, 3n]);
  });

  test('beside each other with one charge are one band', () => {
    expect(wholeBands(bands([0, 5], [10, 5], [20, 0]), goodsOf([1n], 40n)).bands).toHaveLength(2);
  });

  test('charge any goods that can be bought what the stated bands charge', () => {
    const band = fc.record({ step: fc.integer({ min: 1, max: 60 }), charge: fc.integer({ min: 0, max: 9 }) });
    fc.assert(
      fc.property(
        fc.array(band, { maxLength: 4 }),
        fc.integer({ min: 0, max: 9 }),
        fc.array(fc.integer({ min: 1, max: 40 }), { minLength: 1, maxLength: 3 }),
        fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 3, maxLength: 3 }),
        (further, first, prices, units) => {
          let from = 0;
          const stated = bands(
            [0, first],
            ...further.map(({ step, charge }): [number, number] => [(from += step), charge]),
          );
          const most = BigInt(prices.reduce((sum, price) => sum + price * 5, 0));
          const whole = wholeBands(stated, goodsOf(prices.map(BigInt), most));
          const goods = BigInt(prices.reduce((sum, price, index) => sum + price * (units[index] ?? 0), 0));
          const inside = whole.bands.filter(
            ({ lower, upper }) => lower * whole.grain <= goods && goods <= upper * whole.grain,
          );
          expect(inside.map(({ charge }) => charge)).toEqual([bandFor(stated, goods, 0)?.charge]);
        },
      ),
    );
  });
});

test('the last start of a band that charges less than one before it is what buying more can reach', () => {
  expect(lastThreshold(bands([0, 5]))).toBe(0n);
  expect(lastThreshold(bands([0, 2], [10, 5]))).toBe(0n);
  expect(lastThreshold(bands([0, 5], [10, 0]))).toBe(10n);
  expect(lastThreshold(bands([0, 5], [10, 0], [20, 3], [30, 4]))).toBe(30n);
});

test('what reaching a threshold saves is at the most the dearest charge less the cheapest', () => {
  expect(mostSaved(bands([0, 5]))).toBe(0n);
  expect(mostSaved(bands([0, 2], [10, 7], [20, 4], [30, 5]))).toBe(5n);
});

describe('more units than cover the need', () => {
  test('are thought of only as far as the threshold', () => {
    expect(mostUnits(3, 4n, bands([0, 50]))).toBe(3);
    expect(mostUnits(3, 4n, bands([0, 50], [30, 0]))).toBe(8);
    expect(mostUnits(20, 4n, bands([0, 50], [30, 0]))).toBe(20);
  });

  test('are thought of only for as much money as the lower charge saves', () => {
    expect(mostUnits(3, 4n, bands([0, 9], [1000, 0]))).toBe(5);
    expect(mostUnits(3, 4n, bands([0, 8], [1000, 0]))).toBe(5);
    expect(mostUnits(3, 4n, bands([0, 7], [1000, 0]))).toBe(4);
  });

  test('are not thought of where they cost nothing, for then they add nothing to the value', () => {
    expect(mostUnits(3, 0n, bands([0, 5], [30, 0]))).toBe(3);
  });
});
