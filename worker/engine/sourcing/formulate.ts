import { ModelBuilder, type Entry, type MilpModel } from '../solver/model.ts';
import { exactToSolver, type Exact } from '../units/money.ts';
import { grain, sharesOf, unitsAlone, type Fraction } from './pricing.ts';
import { mostUnits, wholeBands, type WholeBands } from './valueBands.ts';
import type { Plan, Problem } from './problem.ts';

/** What is made least, and what must not be exceeded while it is. */
export type Aim =
  { least: 'cost' } | { least: 'waste'; cost: Exact } | { least: 'suppliers'; cost: Exact; waste: Fraction };

/** A problem as a whole-number model, and the ways to and from plans. */
export interface Formulation {
  model: MilpModel;
  /** Values of all columns that say the same as the plan. */
  seed(plan: Plan): number[];
  plan(values: readonly number[]): Plan;
}

interface Columns {
  /** Units bought of each choice. */
  units: number[];
  /** Whether a choice is bought at all, where that matters: single lengths and minimum packs. */
  bought: (number | undefined)[];
  /** Whether a supplier's goods lie in a band, per supplier and band; none of them: nothing is bought there. */
  inBand: number[][];
}

/** Goods are whole grains, so half a grain lets no other plan in, and keeps the solver's noise from shutting one out. */
const HALF_A_GRAIN = 0.5;

/** Waste is compared exactly afterwards; this much leeway keeps the solver from calling the known plan infeasible. */
const WASTE_LEEWAY = 1e-7;

/**
 * Columns: units of each choice; bought or not; one per supplier and postage band. Rows: needs covered, one offer for a
 * single length, minimums, nothing bought from a supplier without a band, goods' value within the band, in whole grains.
 */
export function formulate(problem: Problem, aim: Aim): Formulation {
  const builder = new ModelBuilder();
  const most = problem.choices.map((choice) => {
    const need = problem.demands[choice.demand]?.need ?? 0;
    return mostUnits(unitsAlone(choice, need), choice.price, problem.suppliers[choice.supplier]?.bands ?? []);
  });
  const bands = problem.suppliers.map(({ bands: stated }, supplier) => {
    const own = problem.choices.flatMap((choice, index) =>
      choice.supplier === supplier ? [{ price: choice.price, most: most[index] ?? 0 }] : [],
    );
    const mostGoods = own.reduce((sum, { price, most: units }) => sum + price * BigInt(units), 0n);
    return wholeBands(
      stated,
      own.map(({ price }) => price),
      mostGoods,
    );
  });
  const columns = addColumns(builder, problem, aim, most, bands);
  addDemands(builder, problem, columns);
  addChoices(builder, problem, columns, bands, most);
  addBands(builder, problem, columns, bands);
  if (aim.least !== 'cost') addCostLimit(builder, problem, columns, bands, aim.cost);
  if (aim.least === 'suppliers') addWasteLimit(builder, problem, columns, aim.waste);
  return {
    model: builder.build(),
    seed: (plan) => seedOf(problem, columns, bands, plan),
    plan: (values) => columns.units.map((column) => values[column] ?? 0),
  };
}

function addColumns(
  builder: ModelBuilder,
  problem: Problem,
  aim: Aim,
  most: readonly number[],
  bands: readonly WholeBands[],
): Columns {
  const unitCost = problem.choices.map((choice) => {
    if (aim.least === 'cost') return exactToSolver(choice.price);
    return aim.least === 'waste' ? choice.unit / (problem.demands[choice.demand]?.need ?? 1) : 0;
  });
  const bandCost = (charge: Exact) =>
    aim.least === 'cost' ? exactToSolver(charge) : aim.least === 'suppliers' ? 1 : 0;
  return {
    units: problem.choices.map((_, index) => builder.column(unitCost[index] ?? 0, 0, most[index] ?? 0)),
    bought: problem.choices.map((choice) =>
      problem.demands[choice.demand]?.single === true || choice.minUnits > 1
        ? builder.column(0, 0, 1)
        : undefined,
    ),
    inBand: bands.map((whole) => whole.bands.map(({ charge }) => builder.column(bandCost(charge), 0, 1))),
  };
}

function addDemands(builder: ModelBuilder, problem: Problem, { units, bought }: Columns): void {
  for (const demand of problem.demands)
    if (demand.single)
      builder.row(
        1,
        1,
        entries(demand.choices, bought, () => 1),
      );
    else
      builder.row(
        demand.need,
        Infinity,
        entries(demand.choices, units, (choice) => problem.choices[choice]?.unit ?? 0),
      );
}

/**
 * Units lie between the fewest and the most where the choice is bought, and it is bought from a supplier that sends.
 * More than covers the need alone is bought only to lie in a cheaper band: a unit less would else cost less.
 */
function addChoices(
  builder: ModelBuilder,
  problem: Problem,
  { units, bought, inBand }: Columns,
  bands: readonly WholeBands[],
  most: readonly number[],
): void {
  problem.choices.forEach((choice, index) => {
    const column = units[index] ?? 0;
    const demand = problem.demands[choice.demand];
    const alone = unitsAlone(choice, demand?.need ?? 0);
    const limit = most[index] ?? 0;
    const own = inBand[choice.supplier] ?? [];
    const cheaper = own.filter((_, at) => bands[choice.supplier]?.bands[at]?.cheaper);
    const more = alone < limit ? cheaper.map((band): Entry => [band, alone - limit]) : [];
    const yes = bought[index];
    if (yes === undefined) {
      builder.row(-Infinity, 0, merged([[column, 1], ...own.map((band): Entry => [band, -alone]), ...more]));
      return;
    }
    const fewest = demand?.single ? alone : choice.minUnits;
    builder.row(0, fewest === limit ? 0 : Infinity, [
      [column, 1],
      [yes, -fewest],
    ]);
    if (fewest < limit) {
      builder.row(-Infinity, 0, [[column, 1], [yes, -alone], ...more]);
      if (more.length > 0)
        builder.row(-Infinity, 0, [
          [column, 1],
          [yes, -limit],
        ]);
    }
    builder.row(-Infinity, 0, [[yes, 1], ...own.map((band): Entry => [band, -1])]);
  });
}

/** Entries of one column added up. */
function merged(list: readonly Entry[]): Entry[] {
  const sums = new Map<number, number>();
  for (const [column, coefficient] of list) sums.set(column, (sums.get(column) ?? 0) + coefficient);
  return [...sums];
}

function addBands(
  builder: ModelBuilder,
  problem: Problem,
  { units, inBand }: Columns,
  bands: readonly WholeBands[],
): void {
  bands.forEach((whole, supplier) => {
    const own = inBand[supplier] ?? [];
    builder.row(
      0,
      1,
      entries([...own.keys()], own, () => 1),
    );
    if (whole.bands.length < 2) return;
    const goods = problem.choices.flatMap((choice, index): Entry[] =>
      choice.supplier === supplier ? [[units[index] ?? 0, Number(choice.price / whole.grain)]] : [],
    );
    const limits = (side: 'lower' | 'upper') =>
      whole.bands.map((band, index): Entry => [own[index] ?? 0, -Number(band[side])]);
    builder.row(-HALF_A_GRAIN, Infinity, [...goods, ...limits('lower')]);
    // Nobody stays in a band by choice when the next charges less: only a rise needs a limit.
    if (whole.bands.some(({ charge }, index) => charge < (whole.bands[index + 1]?.charge ?? 0n)))
      builder.row(-Infinity, HALF_A_GRAIN, [...goods, ...limits('upper')]);
  });
}

/** Cost in whole grains of the problem, at most half a grain above: no dearer plan fits. */
function addCostLimit(
  builder: ModelBuilder,
  problem: Problem,
  { units, inBand }: Columns,
  bands: readonly WholeBands[],
  cost: Exact,
): void {
  const one = grain(problem);
  builder.row(-Infinity, Number(cost / one) + 0.5, [
    ...problem.choices.map((choice, index): Entry => [units[index] ?? 0, Number(choice.price / one)]),
    ...bands.flatMap((whole, supplier) =>
      whole.bands.map((band, index): Entry => [inBand[supplier]?.[index] ?? 0, Number(band.charge / one)]),
    ),
  ]);
}

/** Bought over needed, summed: the waste and one for each demand. */
function addWasteLimit(builder: ModelBuilder, problem: Problem, { units }: Columns, waste: Fraction): void {
  const limit = Number((waste.over * 10n ** 12n) / waste.under) / 1e12 + problem.demands.length;
  builder.row(
    -Infinity,
    limit + WASTE_LEEWAY,
    problem.choices.map((choice, index): Entry => [
      units[index] ?? 0,
      choice.unit / (problem.demands[choice.demand]?.need ?? 1),
    ]),
  );
}

function seedOf(problem: Problem, columns: Columns, bands: readonly WholeBands[], plan: Plan): number[] {
  const values: [number, number][] = [];
  problem.choices.forEach((_, index) => {
    const units = plan[index] ?? 0;
    values.push([columns.units[index] ?? 0, units]);
    const yes = columns.bought[index];
    if (yes !== undefined) values.push([yes, units > 0 ? 1 : 0]);
  });
  const goodsOf = new Map(sharesOf(problem, plan).map((share) => [share.supplier, share.goods]));
  bands.forEach((whole, supplier) => {
    const goods = goodsOf.get(supplier);
    whole.bands.forEach((band, index) => {
      const inside =
        goods !== undefined && band.lower * whole.grain <= goods && goods <= band.upper * whole.grain;
      values.push([columns.inBand[supplier]?.[index] ?? 0, inside ? 1 : 0]);
    });
  });
  return values.sort(([a], [b]) => a - b).map(([, value]) => value);
}

function entries(
  keys: readonly number[],
  columns: readonly (number | undefined)[],
  coefficient: (key: number) => number,
): Entry[] {
  return keys.flatMap((key): Entry[] => {
    const column = columns[key];
    return column === undefined ? [] : [[column, coefficient(key)]];
  });
}
