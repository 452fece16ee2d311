import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Band, Choice, Requirement, Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { lineCost } from '../../../worker/engine/sourcing/problem/units.ts';
import { cuttingBudget, cutPlansOf } from '../../../worker/engine/sourcing/search/cutPlans.ts';
import { exactToSolver, MINOR_UNIT } from '../../../worker/engine/units/money.ts';
import { comesOut } from '../../cutting/everyWay.ts';
import { unhurried } from '../../engine/fixtures.ts';

const GRAM = 1_000_000;

const band = (belowMicrograms: number | undefined): Band => ({
  ...{ from: 0n, below: undefined, fromMicrograms: 0, belowMicrograms },
  ...{ charge: 0n, rate: 1n, charges: [] },
});
/** Shops 0 and 1 in the first order, shop 0 in the second, and the shelf; weight counts at shop 1. */
const SUPPLIERS: Problem['suppliers'] = [
  { code: 'shop', wave: 1, own: false, bands: [band(undefined)] },
  { code: 'weighing', wave: 1, own: false, bands: [band(500 * GRAM), band(undefined)] },
  { code: 'shop', wave: 2, own: false, bands: [band(undefined)] },
  { code: '', wave: 0, own: true, bands: [band(undefined)] },
];

const offered = fc
  .record({
    supplier: fc.integer({ min: 0, max: 3 }),
    isMetre: fc.boolean(),
    each: fc.integer({ min: 2, max: 8 }),
    fewest: fc.integer({ min: 1, max: 2 }),
    step: fc.integer({ min: 1, max: 2 }),
    prices: fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 1, maxLength: 2 }),
    stock: fc.option(fc.integer({ min: 1, max: 4 }), { nil: undefined, freq: 1 }),
    grams: fc.integer({ min: 1, max: 5 }),
  })
  .map(({ supplier, isMetre, each, fewest, step, prices, stock, grams }): Choice => {
    const isShelf = supplier === 3;
    const isByMetre = isMetre && !isShelf;
    const first = isShelf ? 1 : fewest * step;
    return {
      ...{ offer: 'offer', supplier, wave: SUPPLIERS[supplier]!.wave, form: isByMetre ? 'metre' : 'length' },
      ...{ serves: [{ requirement: 0, each: isByMetre ? 150 : each * 100 }], piecesPerUnit: 1 },
      tiers: isShelf
        ? [{ fromUnits: 1, price: 0n }]
        : prices.map((price, at) => ({
            fromUnits: first + at * 2 * step,
            price: BigInt(price) * MINOR_UNIT,
          })),
      step: isShelf ? 1 : step,
      mostUnits: stock === undefined ? undefined : first + stock * step,
      microgramsPerUnit: isShelf ? 0 : grams * GRAM,
    };
  });
const piecesOf = fc
  .uniqueArray(
    fc.record({
      mm: fc.integer({ min: 1, max: 12 }),
      count: fc.integer({ min: 1, max: 2 }),
      wave: fc.integer({ min: 1, max: 2 }),
    }),
    {
      minLength: 1,
      maxLength: 3,
      selector: ({ mm, wave }) => `${mm} ${wave}`,
    },
  )
  .map((list) =>
    list.map((piece) => ({ ...piece, mm: piece.mm * 50 })).sort((a, b) => b.mm - a.mm || a.wave - b.wave),
  );

interface Bought {
  units: number[];
  values: number[];
  grams: number;
}

const boughtOf = (choices: readonly Choice[], units: number[]): Bought => ({
  units,
  values: SUPPLIERS.map((_, supplier) =>
    choices.reduce(
      (sum, choice, at) =>
        choice.supplier === supplier ? sum + exactToSolver(lineCost(choice, units[at]!)) : sum,
      0,
    ),
  ),
  grams: choices.reduce(
    (sum, choice, at) => (choice.supplier === 1 ? sum + (units[at]! * choice.microgramsPerUnit) / GRAM : sum),
    0,
  ),
});

function isEnough(requirement: Requirement, choices: readonly Choice[], units: readonly number[]): boolean {
  const bins = choices.flatMap(({ form, wave, serves }, at) => {
    const [each, many] = [serves[0]!.each, units[at]!];
    if (many === 0) return [];
    return [
      form === 'metre' ? { usableMm: each * many, count: 1, wave } : { usableMm: each, count: many, wave },
    ];
  });
  return comesOut(bins, requirement.pieces);
}

/** Everything that can be bought of the choices up to a break beyond all that is of use. */
function everyPurchase(requirement: Requirement, choices: readonly Choice[]): number[][] {
  const pieces = requirement.pieces.reduce((sum, { count }) => sum + count, 0);
  const mm = requirement.pieces.reduce((sum, piece) => sum + piece.mm * piece.count, 0);
  return choices
    .reduce<number[][]>(
      (all, { tiers, step, mostUnits = Infinity, form, serves }) => {
        const amounts = [0];
        const useful = form === 'metre' ? Math.ceil(mm / serves[0]!.each) : pieces;
        const last = Math.min(mostUnits, Math.max(useful + step, tiers.at(-1)!.fromUnits));
        for (let units = tiers[0]!.fromUnits; units <= last; units += step) amounts.push(units);
        return all.flatMap((units) => amounts.map((many) => [...units, many]));
      },
      [[]],
    )
    .filter((units) =>
      [1, 2].every(
        (wave) =>
          requirement.several === true ||
          choices.filter((choice, at) => choice.form === 'metre' && choice.wave === wave && units[at]! > 0)
            .length <= 1,
      ),
    );
}

test('every purchase that all pieces come out of costs as much at each supplier, and weighs as much, as one that is written out', async () => {
  let [told, cases] = [0, 0];
  await fc.assert(
    fc.asyncProperty(
      fc.array(offered, { minLength: 2, maxLength: 3 }),
      piecesOf,
      fc.boolean(),
      fc.option(fc.integer({ min: 1, max: 6 }), { nil: undefined }),
      async (choices, pieces, several, together) => {
        const requirement: Requirement = {
          ...{ id: 'wire', need: 1, how: 'cut', pieces, oneSupplier: false, when: undefined },
          ...{ choices: choices.map((_, at) => at), patterns: undefined, ways: [] },
          ...(several ? { several: true } : {}),
        };
        const problem: Problem = {
          ...{
            scale: 1n,
            requirements: [requirement],
            covers: [],
            pools: [],
            groups: [],
            choices,
            suppliers: SUPPLIERS,
          },
          ...{
            sharedStock: together === undefined ? [] : [{ choices: [0, 1], mostUnits: together }],
            atMostSuppliers: undefined,
            insistOn: [],
          },
        };
        const plans = await cutPlansOf(problem, 0, requirement.choices, cuttingBudget(), unhurried);
        if (!plans) throw new Error('these are few');
        const listed = plans.map((plan) => {
          const units = choices.map(() => 0);
          for (const { choice, units: many } of plan.flatMap(({ step }) => step.lines))
            units[choice]! += many;
          return boughtOf(choices, units);
        });
        for (const { units } of listed) expect(isEnough(requirement, choices, units)).toBe(true);
        for (const [at, { step }] of plans.flat().entries()) if (at === 0) expect(step.gives).toBe(1);
        for (const units of everyPurchase(requirement, choices)) {
          if (units[0]! + units[1]! > (together ?? Infinity)) continue;
          if (!isEnough(requirement, choices, units)) continue;
          const one = boughtOf(choices, units);
          const isAsGood = listed.some(
            (other) => other.values.every((value, s) => value <= one.values[s]!) && other.grams <= one.grams,
          );
          expect([units, isAsGood]).toEqual([units, true]);
          cases++;
        }
        if (plans.length > 1) told++;
      },
    ),
    { numRuns: 150 },
  );
  expect(told).toBeGreaterThan(10);
  expect(cases).toBeGreaterThan(1_000);
});
