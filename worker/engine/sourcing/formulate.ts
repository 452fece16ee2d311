import { ModelBuilder, type Entry, type MilpModel } from '../solver/model.ts';
import { exactToSolver, type Exact } from '../units/money.ts';
import { addColumns, unitEntries, unitsIn, yesEntries, type Columns, type Costs } from './columns.ts';
import { addCutting } from './cutRows.ts';
import { cutsIn } from './cutsIn.ts';
import { grain, type Fraction } from './pricing.ts';
import type { Choice, Plan, Problem } from './problem.ts';
import { seedOf } from './seed.ts';
import { eachFor } from './units.ts';

/**
 * What is made least, and what must not be exceeded while it is. So many demands may be left unmet; with `unmet` as the
 * aim, any.
 */
export type Aim =
  | { least: 'unmet' }
  | { least: 'cost'; unmet: number }
  | { least: 'waste'; unmet: number; cost: Exact }
  | { least: 'suppliers'; unmet: number; cost: Exact; waste: Fraction };

/** A problem as a whole-number model, and the ways to and from plans. */
export interface Formulation {
  model: MilpModel;
  /** Values of all columns that say the same as the plan. */
  seed(plan: Plan): number[];
  plan(values: readonly number[]): Plan;
}

/** Goods are whole grains, so half a grain lets no other plan in, and keeps the solver's noise from shutting one out. */
const HALF_A_GRAIN = 0.5;

/** Waste is compared exactly afterwards; this much leeway keeps the solver from calling the known plan infeasible. */
const WASTE_LEEWAY = 1e-7;

/**
 * Columns: units of each choice at each of its prices; bought or not; one per supplier and delivery band; what is cut.
 * Rows: needs covered, minimums and steps, nothing bought from a supplier without a band, goods within the band.
 */
export function formulate(problem: Problem, aim: Aim): Formulation {
  const builder = new ModelBuilder();
  const columns = addColumns(builder, problem, costsOf(problem, aim), aim.least === 'unmet' || aim.unmet > 0);
  problem.demands.forEach((demand, index) => {
    const need = demand.how === 'sum' ? demand.need : 1;
    const slack: Entry[] = columns.unmet[index] === undefined ? [] : [[columns.unmet[index], need]];
    if (demand.how === 'cut') addCutting(builder, problem, columns, index, slack);
    else if (demand.how === 'single')
      builder.row(1, 1, [...slack, ...demand.choices.flatMap((choice) => yesEntries(columns, choice))]);
    else
      builder.row(need, Infinity, [
        ...slack,
        ...demand.choices.flatMap((at) => {
          const choice = problem.choices[at];
          return choice ? unitEntries(columns, at, eachFor(choice, index)) : [];
        }),
      ]);
  });
  problem.choices.forEach((choice, index) => addChoice(builder, columns, choice, index));
  addBands(builder, problem, columns);
  if (aim.least !== 'unmet' && aim.unmet > 0)
    builder.row(
      -Infinity,
      aim.unmet,
      columns.unmet.flatMap((column): Entry[] => (column === undefined ? [] : [[column, 1]])),
    );
  if (aim.least === 'waste' || aim.least === 'suppliers') addCostLimit(builder, problem, columns, aim.cost);
  if (aim.least === 'suppliers') addWasteLimit(builder, problem, columns, aim.waste);
  return {
    model: builder.build(),
    seed: (plan) => seedOf(problem, columns, plan, builder.build().colCost.length),
    plan: (values) => ({
      units: unitsIn(columns, values),
      cuts: cutsIn(problem, columns, values),
      unmet: columns.unmet.flatMap((column, index) =>
        column !== undefined && (values[column] ?? 0) > 0 ? [index] : [],
      ),
    }),
  };
}

function costsOf(problem: Problem, { least }: Aim): Costs {
  switch (least) {
    case 'unmet':
      return { unit: () => 0, band: () => 0, unmet: 1 };
    case 'cost':
      return { unit: (_, price) => exactToSolver(price), band: exactToSolver, unmet: 0 };
    case 'waste':
      return { unit: (choice) => wasteOfUnit(problem, choice), band: () => 0, unmet: 1 };
    case 'suppliers':
      return { unit: () => 0, band: () => 1, unmet: 0 };
  }
}

/** What a unit adds to the waste: shares of the needs that it serves. A demand left unmet counts as met exactly. */
function wasteOfUnit(problem: Problem, choice: Choice): number {
  return choice.serves.reduce(
    (sum, { demand, each }) => sum + each / (problem.demands[demand]?.need ?? 1),
    0,
  );
}

/**
 * Units lie between the fewest and the most where the choice is bought, and it is bought from a supplier that sends.
 * More than is worth buying without a threshold is bought only to lie in a cheaper band: a unit less would else cost less.
 */
function addChoice(builder: ModelBuilder, columns: Columns, choice: Choice, index: number): void {
  const items = columns.items[index] ?? [];
  const { plain, most } = columns.limits[index] ?? { plain: 0, most: 0 };
  const own = columns.inBand[choice.supplier] ?? [];
  const cheaper = own.filter((_, at) => columns.bands[choice.supplier]?.bands[at]?.cheaper);
  const more = plain < most ? cheaper.map((band): Entry => [band, plain - most]) : [];
  const units = unitEntries(columns, index);
  const yes = yesEntries(columns, index);
  if (yes.length === 0) {
    builder.row(-Infinity, 0, merged([...units, ...own.map((band): Entry => [band, -plain]), ...more]));
    return;
  }
  for (const item of items) {
    if (item.yes === undefined) continue;
    const exact = item.fewest === item.most;
    builder.row(0, exact ? 0 : Infinity, [
      [item.column, item.step],
      [item.yes, -item.fewest],
    ]);
    if (!exact)
      builder.row(-Infinity, 0, [
        [item.column, item.step],
        [item.yes, -item.most],
      ]);
  }
  if (more.length > 0)
    builder.row(-Infinity, 0, [...units, ...yes.map(([column]): Entry => [column, -plain]), ...more]);
  if (yes.length > 1) builder.row(-Infinity, 1, yes);
  builder.row(-Infinity, 0, [...yes, ...own.map((band): Entry => [band, -1])]);
}

/** Entries of one column added up. */
function merged(list: readonly Entry[]): Entry[] {
  const sums = new Map<number, number>();
  for (const [column, coefficient] of list) sums.set(column, (sums.get(column) ?? 0) + coefficient);
  return [...sums];
}

function addBands(builder: ModelBuilder, problem: Problem, columns: Columns): void {
  const ofSupplier: number[][] = problem.suppliers.map(() => []);
  problem.choices.forEach(({ supplier }, index) => ofSupplier[supplier]?.push(index));
  columns.bands.forEach((whole, supplier) => {
    const own = columns.inBand[supplier] ?? [];
    const choices = ofSupplier[supplier] ?? [];
    builder.row(
      0,
      1,
      own.map((column): Entry => [column, 1]),
    );
    const { bands } = whole;
    const limits = (limit: (at: number) => number) => own.map((column, at): Entry => [column, -limit(at)]);
    const items = choices.flatMap((choice) => columns.items[choice] ?? []);
    const goods = items.map(({ column, price, step }): Entry => [
      column,
      Number((price * BigInt(step)) / whole.grain),
    ]);
    if (bands.some(({ lower }) => lower > 0n))
      builder.row(-HALF_A_GRAIN, Infinity, [...goods, ...limits((at) => Number(bands[at]?.lower ?? 0n))]);
    // Nobody stays in a band by choice when a higher one charges less: only a rise needs a limit.
    if (bands.some((band) => bands.some((other) => other.lower > band.lower && other.charge > band.charge)))
      builder.row(-Infinity, HALF_A_GRAIN, [...goods, ...limits((at) => Number(bands[at]?.upper ?? 0n))]);
    const heaviest = Math.max(0, ...bands.map(({ upperWeight }) => upperWeight));
    const weighs = bands.some(({ lowerWeight, upperWeight }) => lowerWeight > 0 || upperWeight < heaviest);
    if (!weighs) return;
    const weight = items.map(({ column, choice, step }): Entry => [
      column,
      ((problem.choices[choice]?.microgramsPerUnit ?? 0) * step) / whole.weightGrain,
    ]);
    builder.row(-Infinity, HALF_A_GRAIN, [...weight, ...limits((at) => bands[at]?.upperWeight ?? 0)]);
    builder.row(-HALF_A_GRAIN, Infinity, [...weight, ...limits((at) => bands[at]?.lowerWeight ?? 0)]);
  });
}

/** Cost in whole grains of the problem, at most half a grain above: no dearer plan fits. */
function addCostLimit(builder: ModelBuilder, problem: Problem, columns: Columns, cost: Exact): void {
  const one = grain(problem);
  builder.row(-Infinity, Number(cost / one) + HALF_A_GRAIN, [
    ...columns.items
      .flat()
      .map(({ column, price, step }): Entry => [column, Number((price * BigInt(step)) / one)]),
    ...columns.bands.flatMap((whole, supplier) =>
      whole.bands.map((band, index): Entry => [
        columns.inBand[supplier]?.[index] ?? 0,
        Number(band.charge / one),
      ]),
    ),
  ]);
}

/** Bought over needed, summed: the waste, and one for each demand, met or not. */
function addWasteLimit(builder: ModelBuilder, problem: Problem, columns: Columns, waste: Fraction): void {
  const limit = Number((waste.over * 10n ** 12n) / waste.under) / 1e12 + problem.demands.length;
  builder.row(-Infinity, limit + WASTE_LEEWAY, [
    ...problem.choices.flatMap((choice, index) => {
      const each = wasteOfUnit(problem, choice);
      return unitEntries(columns, index, each);
    }),
    ...columns.unmet.flatMap((column): Entry[] => (column === undefined ? [] : [[column, 1]])),
  ]);
}
