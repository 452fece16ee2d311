import type { Pattern, Pieces } from '../cutting/patterns.ts';
import type { Columns } from './columns.ts';
import { sharesOf } from './pricing.ts';
import type { Demand, Plan, Problem } from './problem.ts';

/** Values of all columns that say the same as a plan. */
export function seedOf(problem: Problem, columns: Columns, plan: Plan, count: number): number[] {
  const values = Array<number>(count).fill(0);
  const set = (column: number | undefined, value: number) => {
    if (column !== undefined) values[column] = value;
  };
  columns.items.forEach((items, choice) => {
    const units = plan.units[choice] ?? 0;
    const item = items.findLast(({ fewest }) => units > 0 && fewest <= units);
    if (!item) return;
    set(item.column, units / item.step);
    set(item.yes, 1);
  });
  setBands(problem, columns, plan, set);
  for (const index of plan.unmet) set(columns.unmet[index], 1);
  problem.demands.forEach((demand, index) => {
    if (demand.how === 'cut') setCuts(problem, columns, plan, demand, index, set);
  });
  return values;
}

type Setter = (column: number | undefined, value: number) => void;

function setBands(problem: Problem, columns: Columns, plan: Plan, set: Setter): void {
  for (const { supplier, goods, micrograms } of sharesOf(problem, plan)) {
    const whole = columns.bands[supplier];
    if (!whole) continue;
    const at = whole.bands.findIndex(
      (band) =>
        band.lower * whole.grain <= goods &&
        goods <= band.upper * whole.grain &&
        band.lowerWeight * whole.weightGrain <= micrograms &&
        micrograms <= band.upperWeight * whole.weightGrain,
    );
    set(columns.inBand[supplier]?.[at], 1);
  }
}

function setCuts(
  problem: Problem,
  columns: Columns,
  plan: Plan,
  demand: Demand,
  index: number,
  set: Setter,
): void {
  const cuts = plan.cuts[index] ?? [];
  const [first] = cuts;
  if (!first) return;
  set(columns.from[index]?.get(problem.choices[first.choice]?.supplier ?? -1), 1);
  const way = demand.ways.findIndex(({ units }) =>
    demand.choices.every(
      (choice) => (plan.units[choice] ?? 0) === (units.find((line) => line.choice === choice)?.units ?? 0),
    ),
  );
  set(columns.ways[index]?.[way], 1);
  const times = new Map<number, number>();
  for (const cut of cuts) {
    const metre = columns.metre[index]?.get(cut.choice);
    if (metre) demand.pieces.forEach(({ mm }, piece) => set(metre[piece], countOf(cut.pieces, mm)));
    const patterns = demand.patterns?.get(cut.choice) ?? [];
    const at = patterns.findIndex((pattern) => holds(demand, pattern, cut.pieces));
    const column = columns.patterns[index]?.get(cut.choice)?.[at];
    if (column === undefined) continue;
    times.set(column, (times.get(column) ?? 0) + cut.lengths);
    set(column, times.get(column) ?? 0);
  }
}

/** Whether a pattern gives at least these pieces. */
function holds(demand: Demand, pattern: Pattern, pieces: readonly Pieces[]): boolean {
  return demand.pieces.every(({ mm }, piece) => (pattern[piece] ?? 0) >= countOf(pieces, mm));
}

function countOf(pieces: readonly Pieces[], mm: number): number {
  return pieces.find((piece) => piece.mm === mm)?.count ?? 0;
}
