import type { ModelBuilder, Entry } from '../solver/model.ts';
import type { Exact } from '../units/money.ts';
import { wholeBands, type WholeBands } from './bands.ts';
import { limitsOf, type Limits } from './limits.ts';
import type { Choice, Demand, Plan, Problem } from './problem.ts';

/** The units of one choice at the price of one of its tiers. */
export interface Item {
  choice: number;
  price: Exact;
  /** Units are `step` times the column. */
  step: number;
  fewest: number;
  most: number;
  column: number;
  /** Whether any are bought at this price, where that matters. */
  yes: number | undefined;
}

/** All columns of a problem's model. */
export interface Columns {
  items: readonly (readonly Item[])[];
  limits: readonly Limits[];
  bands: readonly WholeBands[];
  /** Whether a supplier's goods lie in a band; none of them: nothing is bought there. */
  inBand: readonly (readonly number[])[];
  /** Whether a demand is left unmet, where the model may leave some. */
  unmet: readonly (number | undefined)[];
  /** cut, by patterns: how many lengths of a choice are cut by each of its patterns. */
  patterns: readonly ReadonlyMap<number, readonly number[]>[];
  /** cut, by patterns: pieces of each length that come out of the continuous length of a choice. */
  metre: readonly ReadonlyMap<number, readonly number[]>[];
  /** Whether all of a demand comes from a supplier, by supplier. */
  from: readonly ReadonlyMap<number, number>[];
  /** cut, by ready-made ways: which one. */
  ways: readonly (readonly number[])[];
}

/** What a column costs under an aim. */
export interface Costs {
  unit: (choice: Choice, price: Exact) => number;
  band: (charge: Exact) => number;
  unmet: number;
}

export function addColumns(
  builder: ModelBuilder,
  problem: Problem,
  costs: Costs,
  mayLeaveUnmet: boolean,
): Columns {
  const limits = problem.choices.map((choice) =>
    limitsOf(choice, problem.demands, problem.suppliers[choice.supplier]?.bands ?? []),
  );
  const items = problem.choices.map((choice, index) =>
    itemsOf(builder, problem, choice, index, limits[index] ?? { alone: 0, plain: 0, most: 0 }, costs),
  );
  const bands = problem.suppliers.map(({ bands: stated }, supplier) => {
    const own = items.flat().filter((item) => problem.choices[item.choice]?.supplier === supplier);
    const microgramsOf = (item: Item) => problem.choices[item.choice]?.microgramsPerUnit ?? 0;
    return wholeBands(stated, {
      prices: own.map(({ price, step }) => price * BigInt(step)),
      weights: own.map((item) => microgramsOf(item) * item.step),
      mostValue: own.reduce((sum, { price, most }) => sum + price * BigInt(most), 0n),
      mostMicrograms: own.reduce((sum, item) => sum + microgramsOf(item) * item.most, 0),
    });
  });
  return {
    items,
    limits,
    bands,
    inBand: bands.map((whole) => whole.bands.map(({ charge }) => builder.column(costs.band(charge), 0, 1))),
    unmet: problem.demands.map(() => (mayLeaveUnmet ? builder.column(costs.unmet, 0, 1) : undefined)),
    patterns: problem.demands.map((demand) => patternColumns(builder, demand, limits)),
    metre: problem.demands.map((demand) => metreColumns(builder, problem, demand)),
    from: problem.demands.map((demand) => fromColumns(builder, problem, demand)),
    ways: problem.demands.map((demand) =>
      demand.how === 'cut' && !demand.patterns ? demand.ways.map(() => builder.column(0, 0, 1)) : [],
    ),
  };
}

function itemsOf(
  builder: ModelBuilder,
  problem: Problem,
  choice: Choice,
  index: number,
  { alone, most }: Limits,
  costs: Costs,
): Item[] {
  const alternative = choice.serves.some(({ demand }) => problem.demands[demand]?.how === 'single');
  const metreOfCut = choice.form === 'metre' && choice.serves.some(({ demand }) => isCut(problem, demand));
  return choice.tiers.flatMap((tier, at): Item[] => {
    const next = choice.tiers[at + 1];
    const end = next ? Math.min(most, next.fromUnits - choice.step) : most;
    // Alone or not at all: fewer than meet the demand are of no use.
    const fewest = alternative ? Math.max(tier.fromUnits, alone) : tier.fromUnits;
    if (fewest > end) return [];
    const { step } = choice;
    const matters = alternative || metreOfCut || choice.tiers.length > 1 || fewest > step;
    return [
      {
        choice: index,
        price: tier.price,
        step,
        fewest,
        most: end,
        column: builder.column(costs.unit(choice, tier.price) * step, 0, Math.floor(end / step)),
        yes: matters ? builder.column(0, 0, 1) : undefined,
      },
    ];
  });
}

function isCut(problem: Problem, demand: number): boolean {
  return problem.demands[demand]?.how === 'cut';
}

function patternColumns(
  builder: ModelBuilder,
  demand: Demand,
  limits: readonly Limits[],
): Map<number, number[]> {
  const columns = new Map<number, number[]>();
  for (const [choice, patterns] of demand.patterns ?? [])
    columns.set(
      choice,
      patterns.map(() => builder.column(0, 0, limits[choice]?.alone ?? 0)),
    );
  return columns;
}

function metreColumns(builder: ModelBuilder, problem: Problem, demand: Demand): Map<number, number[]> {
  const columns = new Map<number, number[]>();
  if (demand.how !== 'cut' || !demand.patterns) return columns;
  for (const choice of demand.choices)
    if (problem.choices[choice]?.form === 'metre')
      columns.set(
        choice,
        demand.pieces.map(({ count }) => builder.column(0, 0, count)),
      );
  return columns;
}

function fromColumns(builder: ModelBuilder, problem: Problem, demand: Demand): Map<number, number> {
  const columns = new Map<number, number>();
  if (demand.how !== 'cut' || !demand.patterns || !demand.oneSupplier) return columns;
  for (const choice of demand.choices) {
    const supplier = problem.choices[choice]?.supplier ?? 0;
    if (!columns.has(supplier)) columns.set(supplier, builder.column(0, 0, 1));
  }
  return columns;
}

/** Units of a choice, as a row's entries. */
export function unitEntries(columns: Columns, choice: number, each = 1): Entry[] {
  return (columns.items[choice] ?? []).map(({ column, step }): Entry => [column, step * each]);
}

/** Whether any of a choice are bought, as a row's entries. */
export function yesEntries(columns: Columns, choice: number, each = 1): Entry[] {
  return (columns.items[choice] ?? []).flatMap(({ yes }): Entry[] =>
    yes === undefined ? [] : [[yes, each]],
  );
}

/** Units of a plan, put back together from the columns' values. */
export function unitsIn(columns: Columns, values: readonly number[]): Plan['units'] {
  return columns.items.map((items) =>
    items.reduce((sum, { column, step }) => sum + (values[column] ?? 0) * step, 0),
  );
}
