import type { Entry, ModelBuilder } from '../../solver/model.ts';
import { exactToSolver } from '../../units/money.ts';
import { unitEntries, type Columns } from './columns.ts';
import { entryOf } from './entries.ts';
import type { Problem } from '../problem/problem.ts';

/** Goods are whole grains, so half a grain lets no other plan in, and keeps the solver's noise from shutting one out. */
const HALF_A_GRAIN = 0.5;

/** Each supplier's goods lie in one of its bands, by value and weight; at most so many suppliers; some from those insisted on. */
export function addBands(builder: ModelBuilder, problem: Problem, columns: Columns): void {
  const ofSupplier: number[][] = problem.suppliers.map(() => []);
  problem.choices.forEach(({ supplier }, index) => ofSupplier[supplier]?.push(index));
  problem.suppliers.forEach((terms, supplier) => {
    const own = columns.inBand[supplier] ?? [];
    const choices = ofSupplier[supplier] ?? [];
    builder.row(
      0,
      1,
      own.map((column): Entry => [column, 1]),
    );
    const used = columns.used.get(terms.code);
    if (used !== undefined)
      builder.row(-Infinity, 0, [...own.map((column): Entry => [column, 1]), [used, -1]]);
    if ((columns.goodsIn[supplier] ?? []).length > 0) addGoods(builder, columns, supplier, choices);
    else addValues(builder, columns, supplier, choices);
    addWeights(builder, problem, columns, supplier, choices);
  });
  if (problem.atMostSuppliers !== undefined)
    builder.row(
      -Infinity,
      problem.atMostSuppliers,
      [...columns.used.values()].map((column): Entry => [column, 1]),
    );
  for (const code of problem.insistOn)
    builder.row(1, Infinity, [
      ...entryOf(columns.without.get(code), 1),
      ...problem.suppliers.flatMap((terms, supplier) =>
        terms.code === code
          ? (ofSupplier[supplier] ?? []).flatMap((choice) => unitEntries(columns, choice))
          : [],
      ),
    ]);
}

/** Goods between the limits of the band that they are in, as one sum: for bands of one rate. */
function addValues(
  builder: ModelBuilder,
  columns: Columns,
  supplier: number,
  choices: readonly number[],
): void {
  const whole = columns.bands[supplier];
  const own = columns.inBand[supplier] ?? [];
  if (!whole) return;
  const { bands } = whole;
  const limits = (limit: (at: number) => number) => own.map((column, at): Entry => [column, -limit(at)]);
  const goods = choices
    .flatMap((choice) => columns.items[choice] ?? [])
    .map(({ column, price, step }): Entry => [column, Number((price * BigInt(step)) / whole.grain)]);
  if (bands.some(({ lower }) => lower > 0n))
    builder.row(-HALF_A_GRAIN, Infinity, [...goods, ...limits((at) => Number(bands[at]?.lower ?? 0n))]);
  // Nobody stays in a band by choice when a higher one charges less: only a rise needs a limit.
  if (bands.some((band) => bands.some((other) => other.lower > band.lower && other.charge > band.charge)))
    builder.row(-Infinity, HALF_A_GRAIN, [...goods, ...limits((at) => Number(bands[at]?.upper ?? 0n))]);
}

/** Where the rate differs from band to band, goods are told apart by band, each between its limits: in minor units. */
function addGoods(
  builder: ModelBuilder,
  columns: Columns,
  supplier: number,
  choices: readonly number[],
): void {
  const whole = columns.bands[supplier];
  if (!whole) return;
  const goodsIn = columns.goodsIn[supplier] ?? [];
  builder.row(0, 0, [
    ...choices
      .flatMap((choice) => columns.items[choice] ?? [])
      .map(({ column, price, step }): Entry => [column, exactToSolver(price * BigInt(step))]),
    ...goodsIn.map((column): Entry => [column, -1]),
  ]);
  const half = exactToSolver(whole.grain) / 2;
  whole.bands.forEach(({ lower, upper }, at) => {
    const column = goodsIn[at] ?? 0;
    const yes = columns.inBand[supplier]?.[at] ?? 0;
    if (lower > 0n)
      builder.row(0, Infinity, [
        [column, 1],
        [yes, half - exactToSolver(lower * whole.grain)],
      ]);
    builder.row(-Infinity, 0, [
      [column, 1],
      [yes, -(half + exactToSolver(upper * whole.grain))],
    ]);
  });
}

function addWeights(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  supplier: number,
  choices: readonly number[],
): void {
  const whole = columns.bands[supplier];
  const own = columns.inBand[supplier] ?? [];
  if (!whole) return;
  const { bands } = whole;
  const limits = (limit: (at: number) => number) => own.map((column, at): Entry => [column, -limit(at)]);
  const heaviest = bands.reduce((most, { upperWeight }) => Math.max(most, upperWeight), 0);
  if (!bands.some(({ lowerWeight, upperWeight }) => lowerWeight > 0 || upperWeight < heaviest)) return;
  const weight = choices
    .flatMap((choice) => columns.items[choice] ?? [])
    .map(({ column, choice, step }): Entry => [
      column,
      ((problem.choices[choice]?.microgramsPerUnit ?? 0) * step) / whole.weightGrain,
    ]);
  builder.row(-Infinity, HALF_A_GRAIN, [...weight, ...limits((at) => bands[at]?.upperWeight ?? 0)]);
  builder.row(-HALF_A_GRAIN, Infinity, [...weight, ...limits((at) => bands[at]?.lowerWeight ?? 0)]);
}
