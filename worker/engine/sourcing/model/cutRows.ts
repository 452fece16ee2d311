import type { Entry, ModelBuilder } from '../../solver/model.ts';
import { unitEntries, yesEntries, type Columns } from './columns.ts';
import type { Known, TooLittle } from './counted.ts';
import type { Requirement, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/** What a requirement asks of a row: once while it is asked for, less where it goes unmet. */
export interface Asking {
  /** Entries that come to what is asked in place of the constant, times the amount asked. */
  beside: (times: number) => Entry[];
  /** 1 where the requirement always counts; 0 where the entries say whether. */
  constant: number;
}

/**
 * The rows of a requirement that is cut from fixed lengths and at most one continuous length an order, where that can do: every piece comes out
 * of some length, no more lengths are cut than are bought, and, where one colour comes from one supplier, all of it does.
 */
export function addCutting(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  index: number,
  asking: Asking,
  known: Known | undefined,
): (value: ValueOf, set: SetValue) => void {
  const requirement = problem.requirements[index];
  if (!requirement) return () => undefined;
  if (!requirement.several) addOneMetre(builder, problem, columns, requirement);
  const from = columns.from[index] ?? new Map<string, number>();
  if (from.size > 0) addFrom(builder, problem, columns, requirement, from, asking);
  for (const { choices, ask } of scopesOf(problem, requirement, from, asking))
    if (requirement.patterns) addPieces(builder, columns, requirement, index, choices, ask);
    else addKnown(builder, columns, choices, ask, known);
  if (requirement.patterns)
    for (const choice of requirement.choices)
      addLength(builder, problem, columns, index, requirement, choice);
  return addTooLittle(builder, columns, asking, known?.tooLittle ?? []);
}

type ValueOf = (choice: number) => number;
type SetValue = (column: number, value: number) => void;

/** The choices out of which all must come, and what is asked of them: of each supplier, where it is one, with the shelf's. */
function scopesOf(
  problem: Problem,
  requirement: Requirement,
  from: ReadonlyMap<string, number>,
  asking: Asking,
): { choices: number[]; ask: Asking }[] {
  if (from.size === 0) return [{ choices: [...requirement.choices], ask: asking }];
  const codeOf = (choice: number) => problem.suppliers[problem.choices[choice]?.supplier ?? 0]?.code ?? '';
  const shelf = requirement.choices.filter((choice) => codeOf(choice) === '');
  return [...from].map(([code, column]) => ({
    choices:
      code === '' ? shelf : [...shelf, ...requirement.choices.filter((choice) => codeOf(choice) === code)],
    ask: { constant: 0, beside: (times: number): Entry[] => [[column, -times]] },
  }));
}

/** All of it comes from one supplier, and nothing that is cut from another. */
function addFrom(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  requirement: Requirement,
  from: ReadonlyMap<string, number>,
  { constant, beside }: Asking,
): void {
  builder.row(constant, constant, [...beside(1), ...[...from.values()].map((column): Entry => [column, 1])]);
  for (const choice of requirement.choices) {
    const terms = problem.suppliers[problem.choices[choice]?.supplier ?? 0];
    const column = from.get(terms?.code ?? '');
    if (!terms || terms.own || column === undefined) continue;
    const most = columns.limits[choice]?.most ?? 0;
    builder.row(-Infinity, 0, [...unitEntries(columns, choice), [column, -most]]);
  }
}

/** At most one continuous length an order. */
function addOneMetre(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  requirement: Requirement,
): void {
  const metres = requirement.choices.filter((choice) => problem.choices[choice]?.form === 'metre');
  for (const wave of new Set(metres.map((choice) => problem.choices[choice]?.wave ?? 1)))
    builder.row(
      -Infinity,
      1,
      metres
        .filter((choice) => problem.choices[choice]?.wave === wave)
        .flatMap((choice) => yesEntries(columns, choice)),
    );
}

/** Pieces of each length that come out of these choices: at least those needed. */
function addPieces(
  builder: ModelBuilder,
  columns: Columns,
  requirement: Requirement,
  index: number,
  choices: readonly number[],
  { constant, beside }: Asking,
): void {
  requirement.pieces.forEach(({ count }, piece) => {
    builder.row(count * constant, Infinity, [
      ...beside(count),
      ...choices.flatMap((choice): Entry[] => {
        const metre = columns.metre[index]?.get(choice);
        if (metre) return metre[piece] === undefined ? [] : [[metre[piece], 1]];
        const patterns = requirement.patterns?.get(choice) ?? [];
        const cut = columns.patterns[index]?.get(choice) ?? [];
        return patterns.map((pattern, at): Entry => [cut[at] ?? 0, pattern[piece] ?? 0]);
      }),
    ]);
  });
}

/** No more comes out of a choice than is bought of it. */
function addLength(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  index: number,
  requirement: Requirement,
  at: number,
): void {
  const choice = problem.choices[at];
  if (!choice) return;
  const metre = columns.metre[index]?.get(at);
  if (metre) {
    const used = requirement.pieces.flatMap(({ mm }, piece): Entry[] =>
      metre[piece] === undefined ? [] : [[metre[piece], -mm]],
    );
    builder.row(0, Infinity, [...unitEntries(columns, at, eachFor(choice, index)), ...used]);
    return;
  }
  const cut = columns.patterns[index]?.get(at) ?? [];
  builder.row(0, Infinity, [...unitEntries(columns, at), ...cut.map((column): Entry => [column, -1])]);
}

/** What is known of lengths out of which all pieces can be cut. */
function addKnown(
  builder: ModelBuilder,
  columns: Columns,
  choices: readonly number[],
  { constant, beside }: Asking,
  known: Known | undefined,
): void {
  for (const { worth, need } of known?.rows ?? [])
    builder.row(need * constant, Infinity, [
      ...beside(need),
      ...choices.flatMap((choice) => unitEntries(columns, choice, worth.get(choice) ?? 0)),
    ]);
}

/**
 * Of lengths that are too few, more of one kind at least. Returned is what sets the columns that say of which, for given
 * units.
 */
function addTooLittle(
  builder: ModelBuilder,
  columns: Columns,
  { constant, beside }: Asking,
  lists: readonly TooLittle[],
): (value: ValueOf, set: SetValue) => void {
  const setters = lists.map((kinds) => {
    const more = kinds.map(({ choices, most }) => {
      const column = builder.column(0, 0, 1);
      builder.row(0, Infinity, [
        ...choices.flatMap((choice) => unitEntries(columns, choice)),
        [column, -(most + 1)],
      ]);
      return { column, choices, most };
    });
    builder.row(constant, Infinity, [...beside(1), ...more.map(({ column }): Entry => [column, 1])]);
    return (value: ValueOf, set: SetValue) => {
      const first = more.find(
        ({ choices, most }) => choices.reduce((sum, choice) => sum + value(choice), 0) > most,
      );
      if (first) set(first.column, 1);
    };
  });
  return (value, set) => {
    for (const setter of setters) setter(value, set);
  };
}
