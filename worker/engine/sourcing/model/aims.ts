import type { Entry, ModelBuilder } from '../../solver/model.ts';
import { D } from '../../units/decimal.ts';
import type { Fraction } from '../../units/fraction.ts';
import { exactToSolver, halfMinor, type Exact } from '../../units/money.ts';
import { unitEntries, type Columns, type Costs } from './columns.ts';
import { entryOf, merged } from './entries.ts';
import { grain } from '../problem/pricing.ts';
import type { Problem } from '../problem/problem.ts';
import { COST_LIMIT_PARTS, WASTE_LEEWAY } from '../../solver/tolerances.ts';

/**
 * What is made least, and what must not be exceeded while it is. So much may be left undone; with `undone` as the
 * aim, any.
 */
export type Aim =
  | { least: 'undone' }
  | { least: 'cost'; left: Left }
  | { least: 'waste'; left: Left; cost: Exact }
  | { least: 'parcels'; left: Left; cost: Exact; waste: Fraction };

/** How much is left undone: suppliers insisted on from whom nothing comes, and requirements that go unmet. */
export interface Left {
  without: number;
  unmet: number;
}

export const NOTHING_LEFT: Left = { without: 0, unmet: 0 };

/** What columns cost under an aim. */
export function costsOf(problem: Problem, { least }: Aim): Costs {
  const { scale } = problem;
  const shares = shareOfPools(problem);
  const nothing = {
    unit: () => 0,
    band: () => 0,
    goods: () => 0,
    unmet: () => 0,
    without: 0,
    option: () => 0,
  };
  switch (least) {
    case 'undone':
      // What is insisted on comes first.
      return { ...nothing, unmet: () => 1, without: problem.requirements.length + 1 };
    case 'cost':
      return {
        ...nothing,
        unit: (_, price, rate) => exactToSolver(price * rate, scale),
        band: (charge) => exactToSolver(charge, scale),
        // The scale alone may be beyond what a floating-point number holds.
        goods: (more) => new D(more.toString()).div(scale.toString()).toNumber(),
      };
    case 'waste': {
      const wasted = wasteOfUnits(problem);
      const places = new Map(problem.choices.map((choice, index) => [choice, index]));
      return {
        ...nothing,
        unit: (choice) => wasted[places.get(choice) ?? 0] ?? 0,
        unmet: (requirement) => shares[requirement] ?? 0,
        option: (option) =>
          -problem.requirements.reduce(
            (sum, { when }, index) => sum + (when?.includes(option) ? (shares[index] ?? 0) : 0),
            0,
          ),
      };
    }
    case 'parcels':
      return { ...nothing, band: (_, own) => (own ? 0 : 1) };
  }
}

/** What each requirement is of the pool that it is met from. */
function shareOfPools({ pools, requirements }: Problem): number[] {
  const shares = requirements.map(() => 0);
  for (const { requirements: own, need } of pools)
    for (const requirement of own) shares[requirement] = (requirements[requirement]?.need ?? 0) / need;
  return shares;
}

/** What a unit of each choice adds to the waste: shares of the pools that it serves. */
function wasteOfUnits({ pools, choices }: Problem): number[] {
  const wasted = choices.map(() => 0);
  for (const { need, gives } of pools)
    for (const { choice, each } of gives) wasted[choice] = (wasted[choice] ?? 0) + each / need;
  return wasted;
}

/** Cost in whole grains of the problem, at most half a grain above: no dearer plan fits, unless grains are very fine. */
export function addCostLimit(builder: ModelBuilder, problem: Problem, columns: Columns, cost: Exact): void {
  const exact = grain(problem);
  const finest = halfMinor(problem.scale) / COST_LIMIT_PARTS;
  const one = exact > finest ? exact : finest;
  const inUnits = (amount: bigint) =>
    amount % one === 0n
      ? Number(amount / one)
      : new D(amount.toString()).div(new D(one.toString())).toNumber();
  const minor = halfMinor(problem.scale) * 2n;
  builder.row(-Infinity, inUnits(cost) + 0.5, [
    ...columns.items
      .flat()
      .map(({ column, price, step, choice }): Entry => [
        column,
        inUnits(price * BigInt(step) * (columns.leastRate[problem.choices[choice]?.supplier ?? 0] ?? 0n)),
      ]),
    ...columns.bands.flatMap((whole, supplier) =>
      whole.bands.flatMap((band, index): Entry[] => [
        ...entryOf(columns.inBand[supplier]?.[index], inUnits(band.charge)),
        ...entryOf(
          columns.goodsIn[supplier]?.[index],
          inUnits(((band.rate - (columns.leastRate[supplier] ?? 0n)) * minor) / problem.scale),
        ),
      ]),
    ),
  ]);
}

/** Bought over needed, summed: the waste, and what all requirements are of their pools. */
export function addWasteLimit(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  waste: Fraction,
): void {
  const shares = shareOfPools(problem);
  const wasted = wasteOfUnits(problem);
  const always = problem.requirements.reduce(
    (sum, { when }, index) => sum + (when === undefined ? (shares[index] ?? 0) : 0),
    0,
  );
  const limit = Number((waste.over * 10n ** 12n) / waste.under) / 1e12 + always;
  builder.row(-Infinity, limit + WASTE_LEEWAY, [
    ...problem.choices.flatMap((_, index) => unitEntries(columns, index, wasted[index] ?? 0)),
    ...columns.unmet.flatMap((column, requirement) => entryOf(column, shares[requirement] ?? 0)),
    ...merged(
      problem.requirements.flatMap(({ when }, index) =>
        (when ?? []).flatMap((option) => entryOf(columns.options.get(option), -(shares[index] ?? 0))),
      ),
    ),
  ]);
}
