import { ModelBuilder, type Entry, type MilpModel } from '../../solver/model.ts';
import { addCostLimit, addWasteLimit, costsOf, type Aim } from './aims.ts';
import { addBands } from './bandRows.ts';
import { addColumns, unitEntries, unitsIn, yesEntries, type Columns } from './columns.ts';
import type { Knowledge } from './counted.ts';
import { addCutting, type Asking } from './cutRows.ts';
import { cutsIn } from './cutsIn.ts';
import { entryOf, merged } from './entries.ts';
import type { Plan, Problem } from '../problem/problem.ts';
import { seedOf } from './seed.ts';

/** A problem as a whole-number model, and the ways to and from plans. */
export interface Formulation {
  model: MilpModel;
  /** Values of all columns that say the same as the plan. */
  seed(plan: Plan): number[];
  /** The plan that the values say; what is cut by counts has no cuts in it yet. */
  plan(values: readonly number[]): Plan;
}

/**
 * Columns: units of each choice at each of its prices; bought or not; one per supplier and delivery band; what is cut;
 * families chosen. Rows: requirements covered, minimums and steps, nothing bought from a supplier without a band, goods within the
 * band. `knowledge`: what the cutting has said so far of requirements that are cut by counts.
 */
export function formulate(problem: Problem, aim: Aim, knowledge: Knowledge): Formulation {
  const builder = new ModelBuilder();
  const mayLeave = aim.least === 'undone' || aim.left.unmet > 0 || aim.left.without > 0;
  const columns = addColumns(builder, problem, costsOf(problem, aim), mayLeave);
  for (const { members, gives } of problem.covers) {
    const asking = members.map(({ requirement, need, when }) => ({
      need,
      asking: askingOf(columns, requirement, when === undefined ? undefined : [when]),
    }));
    builder.row(
      asking.reduce((sum, { need, asking: { constant } }) => sum + need * constant, 0),
      Infinity,
      [
        ...asking.flatMap(({ need, asking: { beside } }) => beside(need)),
        ...gives.flatMap(({ choice, each }) => unitEntries(columns, choice, each)),
      ],
    );
  }
  const setters = problem.requirements.map((requirement, index) => {
    const asking = askingOf(columns, index, requirement.when);
    if (requirement.how === 'single')
      builder.row(asking.constant, asking.constant, [
        ...asking.beside(1),
        ...requirement.choices.flatMap((choice) => yesEntries(columns, choice)),
      ]);
    return requirement.how === 'cut'
      ? addCutting(builder, problem, columns, index, asking, knowledge.get(index))
      : () => undefined;
  });
  for (const group of problem.groups)
    builder.row(
      1,
      1,
      group.flatMap((option): Entry[] => entryOf(columns.options.get(option), 1)),
    );
  problem.choices.forEach((_, index) => {
    addChoice(builder, problem, columns, index);
    addOnlyAsked(builder, problem, columns, index);
  });
  for (const { choices, mostUnits } of problem.sharedStock)
    builder.row(
      -Infinity,
      mostUnits,
      choices.flatMap((choice) => unitEntries(columns, choice)),
    );
  addBands(builder, problem, columns);
  if (aim.least !== 'undone' && mayLeave) {
    builder.row(
      -Infinity,
      aim.left.unmet,
      columns.unmet.flatMap((column) => entryOf(column, 1)),
    );
    builder.row(
      -Infinity,
      aim.left.without,
      [...columns.without.values()].map((column): Entry => [column, 1]),
    );
  }
  if (aim.least === 'waste' || aim.least === 'parcels') addCostLimit(builder, problem, columns, aim.cost);
  if (aim.least === 'parcels') addWasteLimit(builder, problem, columns, aim.waste);
  const model = builder.build();
  return {
    model,
    seed: (plan) => seedOf(problem, columns, plan, model.colCost.length, setters),
    plan: (values) => ({
      units: unitsIn(columns, values),
      cuts: cutsIn(problem, columns, values),
      unmet: columns.unmet.flatMap((column, index) =>
        column !== undefined && (values[column] ?? 0) > 0 ? [index] : [],
      ),
      without: [...columns.without].flatMap(([code, column]) => ((values[column] ?? 0) > 0 ? [code] : [])),
      options: [...columns.options].flatMap(([option, column]) =>
        (values[column] ?? 0) > 0 ? [option] : [],
      ),
    }),
  };
}

/** A requirement asks while one of its options is chosen, and not where it goes unmet. */
function askingOf(columns: Columns, requirement: number, when: readonly number[] | undefined): Asking {
  const slack = columns.unmet[requirement];
  return {
    constant: when === undefined ? 1 : 0,
    beside: (times) => [
      ...entryOf(slack, times),
      ...(when ?? []).flatMap((option) => entryOf(columns.options.get(option), -times)),
    ],
  };
}

/**
 * Units lie between the fewest and the most where the choice is bought, and it is bought from a supplier that sends.
 * More than is worth buying without a threshold is bought only to lie in a cheaper band: a unit less would else cost less.
 */
function addChoice(builder: ModelBuilder, problem: Problem, columns: Columns, index: number): void {
  const choice = problem.choices[index];
  if (!choice) return;
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

/** Nothing is bought that serves only what is not asked for: another family’s parts, or what goes unmet. */
function addOnlyAsked(builder: ModelBuilder, problem: Problem, columns: Columns, index: number): void {
  const requirements = problem.choices[index]?.serves.map(({ requirement }) => requirement) ?? [];
  const asking = requirements.map((requirement) =>
    askingOf(columns, requirement, problem.requirements[requirement]?.when),
  );
  if (asking.length === 0 || asking.some(({ constant, beside }) => constant === 1 && beside(1).length === 0))
    return;
  const { most } = columns.limits[index] ?? { most: 0 };
  const yes = yesEntries(columns, index);
  const [bought, times] =
    yes.length > 0 ? ([yes, 1] as const) : ([unitEntries(columns, index), most] as const);
  builder.row(
    -Infinity,
    asking.reduce((sum, { constant }) => sum + constant * times, 0),
    merged([...bought, ...asking.flatMap(({ beside }) => beside(times))]),
  );
}
