import type { Entry, ModelBuilder } from '../solver/model.ts';
import { unitEntries, yesEntries, type Columns } from './columns.ts';
import type { Demand, Problem } from './problem.ts';
import { eachFor } from './units.ts';

/**
 * The rows of a demand that is cut from fixed lengths and at most one continuous length: every piece comes out of some
 * length, no more lengths are cut than are bought, and, where one colour comes from one supplier, all of it does.
 * `slack`: the entry that lets the demand go unmet, if any.
 */
export function addCutting(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  index: number,
  slack: readonly Entry[],
): void {
  const demand = problem.demands[index];
  if (!demand) return;
  if (!demand.patterns) {
    addWays(builder, columns, demand, index, slack);
    return;
  }
  const from = columns.from[index] ?? new Map<number, number>();
  const ofSupplier = (supplier: number | undefined) =>
    demand.choices.filter(
      (choice) => supplier === undefined || problem.choices[choice]?.supplier === supplier,
    );
  if (from.size > 0) {
    builder.row(1, 1, [...slack, ...[...from.values()].map((column): Entry => [column, 1])]);
    for (const [supplier, column] of from) {
      const lengths = demand.pieces.map(({ count }): number => count);
      addPieces(
        builder,
        columns,
        demand,
        index,
        ofSupplier(supplier),
        lengths.map((count) => [[column, -count]]),
        0,
      );
      for (const choice of ofSupplier(supplier)) addFrom(builder, columns, choice, column);
    }
  } else {
    const unmet = demand.pieces.map(({ count }) => slack.map(([column]): Entry => [column, count]));
    addPieces(builder, columns, demand, index, ofSupplier(undefined), unmet, 1);
  }
  const metres = demand.choices.filter((choice) => problem.choices[choice]?.form === 'metre');
  if (metres.length > 0)
    builder.row(
      -Infinity,
      1,
      metres.flatMap((choice) => yesEntries(columns, choice)),
    );
  for (const choice of demand.choices) addLength(builder, problem, columns, index, demand, choice);
}

/** Pieces of each length that come out of these choices: at least those needed, `times` of them and what is let go. */
function addPieces(
  builder: ModelBuilder,
  columns: Columns,
  demand: Demand,
  index: number,
  choices: readonly number[],
  beside: readonly (readonly Entry[])[],
  times: number,
): void {
  demand.pieces.forEach(({ count }, piece) => {
    builder.row(count * times, Infinity, [
      ...(beside[piece] ?? []),
      ...choices.flatMap((choice): Entry[] => {
        const metre = columns.metre[index]?.get(choice)?.[piece];
        if (metre !== undefined) return [[metre, 1]];
        const patterns = demand.patterns?.get(choice) ?? [];
        const cut = columns.patterns[index]?.get(choice) ?? [];
        return patterns.map((pattern, at): Entry => [cut[at] ?? 0, pattern[piece] ?? 0]);
      }),
    ]);
  });
}

/** Nothing of a choice is cut for a supplier that the demand does not come from. */
function addFrom(builder: ModelBuilder, columns: Columns, choice: number, column: number): void {
  const most = columns.limits[choice]?.most ?? 0;
  builder.row(-Infinity, 0, [...unitEntries(columns, choice), [column, -most]]);
}

/** No more comes out of a choice than is bought of it. */
function addLength(
  builder: ModelBuilder,
  problem: Problem,
  columns: Columns,
  index: number,
  demand: Demand,
  at: number,
): void {
  const choice = problem.choices[at];
  if (!choice) return;
  const metre = columns.metre[index]?.get(at);
  if (metre) {
    const used = demand.pieces.map(({ mm }, piece): Entry => [metre[piece] ?? 0, -mm]);
    builder.row(0, Infinity, [...unitEntries(columns, at, eachFor(choice, index)), ...used]);
    return;
  }
  const cut = columns.patterns[index]?.get(at) ?? [];
  builder.row(0, Infinity, [...unitEntries(columns, at), ...cut.map((column): Entry => [column, -1])]);
}

/** One of the ready-made ways, and what it takes bought. */
function addWays(
  builder: ModelBuilder,
  columns: Columns,
  demand: Demand,
  index: number,
  slack: readonly Entry[],
): void {
  const ways = columns.ways[index] ?? [];
  builder.row(1, 1, [...slack, ...ways.map((column): Entry => [column, 1])]);
  for (const choice of demand.choices) {
    const taken = demand.ways.flatMap((way, at): Entry[] => {
      const units = way.units.find((line) => line.choice === choice)?.units ?? 0;
      return units === 0 ? [] : [[ways[at] ?? 0, -units]];
    });
    // Exactly these: more of another length would be a second supplier or a second continuous length.
    builder.row(0, 0, [...unitEntries(columns, choice), ...taken]);
  }
}
