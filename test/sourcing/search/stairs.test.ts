import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Step } from '../../../worker/engine/sourcing/search/network.ts';
import { looseAmountsOf, stairOf, type Offered } from '../../../worker/engine/sourcing/search/stairs.ts';
import type { Choice } from '../../../worker/engine/sourcing/problem/problem.ts';
import { lineCost } from '../../../worker/engine/sourcing/problem/units.ts';
import { exactToSolver, MINOR_UNIT } from '../../../worker/engine/units/money.ts';

const GRAM = 1_000_000;

/** A choice sold from `fewest` steps on, with breaks, and an end of its stock where `stock` says so. */
const offered = (mostEach: number) =>
  fc
    .record({
      each: fc.integer({ min: 1, max: mostEach }),
      step: fc.integer({ min: 1, max: 3 }),
      fewest: fc.integer({ min: 1, max: 3 }),
      prices: fc.array(fc.integer({ min: 0, max: 40 }), { minLength: 1, maxLength: 3 }),
      apart: fc.integer({ min: 1, max: 4 }),
      stock: fc.option(fc.integer({ min: 0, max: 12 }), { nil: undefined }),
      grams: fc.integer({ min: 0, max: 5 }),
    })
    .map(({ each, step, fewest, prices, apart, stock, grams }): Omit<Offered, 'at'> => {
      const mostUnits = stock === undefined ? undefined : (fewest + stock) * step;
      const tiers = prices
        .map((price, tier) => ({
          fromUnits: (fewest + tier * apart) * step,
          price: BigInt(price) * MINOR_UNIT,
        }))
        .filter(({ fromUnits }) => fromUnits <= (mostUnits ?? Infinity));
      const choice: Choice = {
        ...{ offer: 'offer', supplier: 0, wave: 1, form: 'pack', piecesPerUnit: 1 },
        ...{ serves: [{ requirement: 0, each }], tiers, step, mostUnits, microgramsPerUnit: grams * GRAM },
      };
      return { choice, each };
    });
const several = (mostEach: number, many: number) =>
  fc
    .array(offered(mostEach), { minLength: 1, maxLength: many })
    .map((list) => list.map((one, at): Offered => ({ ...one, at })));

type Purchase = Pick<Step, 'gives' | 'value' | 'grams'>;

/** Everything that can be bought of the choices, up to so many units of each. */
function purchasesOf(list: readonly Offered[], mostUnits: number): Purchase[] {
  return list.reduce<Purchase[]>(
    (all, { choice, each }) => {
      const amounts = [0];
      const first = choice.tiers[0]!.fromUnits;
      for (
        let units = first;
        units <= Math.min(mostUnits, choice.mostUnits ?? Infinity);
        units += choice.step
      )
        amounts.push(units);
      return all.flatMap(({ gives, value, grams }) =>
        amounts.map((units) => ({
          gives: gives + units * each,
          value: value + exactToSolver(lineCost(choice, units)),
          grams: grams + (units * choice.microgramsPerUnit) / GRAM,
        })),
      );
    },
    [{ gives: 0, value: 0, grams: 0 }],
  );
}

const NOISE = 1e-9;

/** Purchases that no step gives as much as, up to the need, for no more money and, where it counts, no more weight. */
function unmatched(purchases: readonly Purchase[], stair: readonly Step[], need: number, byWeight: boolean) {
  return purchases.filter(
    ({ gives, value, grams }) =>
      gives > 0 &&
      !stair.some(
        (step) =>
          step.gives >= Math.min(need, gives) &&
          step.value <= value + NOISE &&
          (!byWeight || step.grams <= grams + NOISE),
      ),
  );
}

test('whatever is bought of one supplier, a step gives no less up to the need, and costs and weighs no more', () => {
  fc.assert(
    fc.property(several(4, 3), fc.integer({ min: 1, max: 15 }), fc.boolean(), (list, need, byWeight) => {
      const stair = stairOf(list, need, byWeight);
      expect(unmatched(purchasesOf(list, 18), stair!, need, byWeight)).toEqual([]);
    }),
    { numRuns: 300 },
  );
});

test('each step is what its lines come to, and can be bought', () => {
  fc.assert(
    fc.property(several(4, 3), fc.integer({ min: 1, max: 15 }), (list, need) => {
      for (const { gives, value, grams, lines } of stairOf(list, need, true)!) {
        const sums = lines.map(({ choice: at, units }) => {
          const { choice, each } = list[at]!;
          expect(units % choice.step).toBe(0);
          expect(units).toBeGreaterThanOrEqual(choice.tiers[0]!.fromUnits);
          expect(units).toBeLessThanOrEqual(choice.mostUnits ?? Infinity);
          return {
            gives: units * each,
            value: lineCost(choice, units),
            grams: choice.microgramsPerUnit * units,
          };
        });
        expect(gives).toBe(
          Math.min(
            need,
            sums.reduce((sum, line) => sum + line.gives, 0),
          ),
        );
        expect(value).toBe(exactToSolver(sums.reduce((sum, line) => sum + line.value, 0n)));
        expect(grams).toBe(sums.reduce((sum, line) => sum + line.grams, 0) / GRAM);
      }
    }),
    { numRuns: 300 },
  );
});

test('where amounts are many, a few of them give no less and cost and weigh no more than any', () => {
  let few = 0;
  fc.assert(
    fc.property(offered(3), fc.integer({ min: 1, max: 2_000 }), fc.boolean(), (one, need, byWeight) => {
      const list = [{ ...one, at: 0 }];
      const steps = looseAmountsOf(list[0]!, need);
      const purchases = purchasesOf(list, need + 20);
      if (steps.length < purchases.length / 2) few++;
      expect(unmatched(purchases, steps, need, byWeight)).toEqual([]);
    }),
    { numRuns: 100 },
  );
  expect(few).toBeGreaterThan(10);
});
