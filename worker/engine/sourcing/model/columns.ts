import type { ModelBuilder, Entry } from '../../solver/model.ts';
import { exactToSolver, type Exact } from '../../units/money.ts';
import { wholeBands, type WholeBands } from '../problem/bands.ts';
import { coversByChoice, limitsOf, type Limits } from '../problem/limits.ts';
import type { Choice, Requirement, Problem } from '../problem/problem.ts';

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
  /** The least rate of a supplier's bands: what its goods cost at the least. */
  leastRate: readonly bigint[];
  /** Where a supplier's bands have several rates: its goods in each, in minor units of its currency. */
  goodsIn: readonly (readonly number[])[];
  /** Whether a requirement is left unmet, where the model may leave some. */
  unmet: readonly (number | undefined)[];
  /** Whether nothing comes from a supplier insisted on, by code, where the model may leave that out. */
  without: ReadonlyMap<string, number>;
  /** Whether an option is chosen, by its number. */
  options: ReadonlyMap<number, number>;
  /** Whether anything is bought from a supplier in any order, by code, where their number is limited. */
  used: ReadonlyMap<string, number>;
  /** cut, by patterns: how many lengths of a choice are cut by each of its patterns. */
  patterns: readonly ReadonlyMap<number, readonly number[]>[];
  /** cut, by patterns: pieces of each length that come out of the continuous length of a choice. */
  metre: readonly ReadonlyMap<number, readonly (number | undefined)[]>[];
  /** cut: whether all of a requirement comes from a supplier, by code. */
  from: readonly ReadonlyMap<string, number>[];
}

/** What a column costs under an aim. */
export interface Costs {
  /** A unit of a choice at a price, at its supplier's least rate. */
  unit: (choice: Choice, price: Exact, rate: bigint) => number;
  band: (charge: Exact, own: boolean) => number;
  /** A minor unit of goods in a band whose rate lies so much over the least. */
  goods: (more: bigint) => number;
  unmet: (requirement: number) => number;
  without: number;
  option: (option: number) => number;
}

export function addColumns(
  builder: ModelBuilder,
  problem: Problem,
  costs: Costs,
  mayLeave: boolean,
): Columns {
  const covers = coversByChoice(problem.covers);
  const limits = problem.choices.map((choice, index) =>
    limitsOf(
      choice,
      { requirements: problem.requirements, covers: covers.get(index) ?? [] },
      problem.suppliers[choice.supplier]?.bands ?? [],
    ),
  );
  const rungs = problem.choices.map((choice, index) =>
    rungsOf(problem, choice, index, limits[index] ?? NO_LIMITS),
  );
  const bands = bandsOf(problem, rungs);
  // Of the bands that goods can come to be in.
  const leastRate = bands.map((whole) =>
    whole.bands.reduce((least, { rate }) => (rate < least ? rate : least), whole.bands[0]?.rate ?? 0n),
  );
  const items = rungs.map((list) =>
    list.map(({ matters, ...rung }): Item => {
      const choice = problem.choices[rung.choice];
      const cost = choice ? costs.unit(choice, rung.price, leastRate[choice.supplier] ?? 0n) : 0;
      return {
        ...rung,
        column: builder.column(cost * rung.step, 0, Math.floor(rung.most / rung.step)),
        yes: matters ? builder.column(0, 0, 1) : undefined,
      };
    }),
  );
  const isOwn = (supplier: number) => problem.suppliers[supplier]?.own === true;
  return {
    items,
    limits,
    bands,
    leastRate,
    inBand: bands.map((whole, supplier) =>
      whole.bands.map(({ charge }) => builder.column(costs.band(charge, isOwn(supplier)), 0, 1)),
    ),
    goodsIn: bands.map((whole, supplier) =>
      new Set(whole.bands.map(({ rate }) => rate)).size < 2
        ? []
        : whole.bands.map(({ rate, upper }) =>
            builder.continuous(
              costs.goods(rate - (leastRate[supplier] ?? 0n)),
              0,
              exactToSolver(upper * whole.grain) + 1,
            ),
          ),
    ),
    unmet: problem.requirements.map((_, requirement) =>
      mayLeave ? builder.column(costs.unmet(requirement), 0, 1) : undefined,
    ),
    without: new Map(
      (mayLeave ? problem.insistOn : []).map((code) => [code, builder.column(costs.without, 0, 1)]),
    ),
    options: new Map(
      problem.groups.flat().map((option) => [option, builder.column(costs.option(option), 0, 1)]),
    ),
    used: new Map(
      problem.atMostSuppliers === undefined
        ? []
        : [...new Set(problem.suppliers.flatMap(({ code, own }) => (own ? [] : [code])))].map((code) => [
            code,
            builder.column(0, 0, 1),
          ]),
    ),
    patterns: problem.requirements.map((requirement) => patternColumns(builder, requirement, limits)),
    metre: problem.requirements.map((requirement) => metreColumns(builder, problem, requirement)),
    from: problem.requirements.map((requirement) => fromColumns(builder, problem, requirement)),
  };
}

const NO_LIMITS: Limits = { alone: 0, plain: 0, most: 0 };

type Rung = Omit<Item, 'column' | 'yes'> & { matters: boolean };

/** The prices of a choice that can be worth paying, each with how much is bought at it. */
function rungsOf(problem: Problem, choice: Choice, index: number, { alone, most }: Limits): Rung[] {
  const alternative = choice.serves.some(
    ({ requirement }) => problem.requirements[requirement]?.how === 'single',
  );
  const metreOfCut =
    choice.form === 'metre' && choice.serves.some(({ requirement }) => isCut(problem, requirement));
  return choice.tiers.flatMap((tier, at): Rung[] => {
    const next = choice.tiers[at + 1];
    const end = next ? Math.min(most, next.fromUnits - choice.step) : most;
    // Alone or not at all: fewer than meet the requirement are of no use.
    const fewest = alternative ? Math.max(tier.fromUnits, alone) : tier.fromUnits;
    if (fewest > end) return [];
    const { step } = choice;
    const matters = alternative || metreOfCut || choice.tiers.length > 1 || fewest > step;
    return [{ choice: index, price: tier.price, step, fewest, most: end, matters }];
  });
}

/** Each supplier's bands in whole grains of what can be bought there. */
function bandsOf(problem: Problem, rungs: readonly (readonly Rung[])[]): WholeBands[] {
  const bySupplier = problem.suppliers.map((): Rung[] => []);
  for (const rung of rungs.flat()) bySupplier[problem.choices[rung.choice]?.supplier ?? 0]?.push(rung);
  return problem.suppliers.map(({ bands }, supplier) => {
    const own = bySupplier[supplier] ?? [];
    const microgramsOf = ({ choice }: Rung) => problem.choices[choice]?.microgramsPerUnit ?? 0;
    return wholeBands(bands, {
      prices: own.map(({ price, step }) => price * BigInt(step)),
      weights: own.map((rung) => microgramsOf(rung) * rung.step),
      mostValue: own.reduce((sum, { price, most }) => sum + price * BigInt(most), 0n),
      mostMicrograms: own.reduce((sum, rung) => sum + microgramsOf(rung) * rung.most, 0),
    });
  });
}

function isCut(problem: Problem, requirement: number): boolean {
  return problem.requirements[requirement]?.how === 'cut';
}

function patternColumns(
  builder: ModelBuilder,
  requirement: Requirement,
  limits: readonly Limits[],
): Map<number, number[]> {
  const columns = new Map<number, number[]>();
  for (const [choice, patterns] of requirement.patterns ?? [])
    columns.set(
      choice,
      patterns.map(() => builder.column(0, 0, limits[choice]?.alone ?? 0)),
    );
  return columns;
}

function metreColumns(
  builder: ModelBuilder,
  problem: Problem,
  requirement: Requirement,
): Map<number, (number | undefined)[]> {
  const columns = new Map<number, (number | undefined)[]>();
  if (requirement.how !== 'cut' || !requirement.patterns) return columns;
  for (const at of requirement.choices) {
    const choice = problem.choices[at];
    if (choice?.form === 'metre')
      columns.set(
        at,
        requirement.pieces.map(({ count, wave = 1 }) =>
          wave >= choice.wave ? builder.column(0, 0, count) : undefined,
        ),
      );
  }
  return columns;
}

function fromColumns(builder: ModelBuilder, problem: Problem, requirement: Requirement): Map<string, number> {
  const columns = new Map<string, number>();
  if (requirement.how !== 'cut' || !requirement.oneSupplier) return columns;
  for (const choice of requirement.choices) {
    // The shelf may stand beside any one supplier, and alone too.
    const { code = '' } = problem.suppliers[problem.choices[choice]?.supplier ?? 0] ?? {};
    if (!columns.has(code)) columns.set(code, builder.column(0, 0, 1));
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
export function unitsIn(columns: Columns, values: readonly number[]): number[] {
  return columns.items.map((items) =>
    items.reduce((sum, { column, step }) => sum + (values[column] ?? 0) * step, 0),
  );
}
