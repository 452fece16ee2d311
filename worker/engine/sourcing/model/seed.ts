import type { Pattern } from '../../cutting/patterns.ts';
import { exactToSolver } from '../../units/money.ts';
import type { Columns } from './columns.ts';
import { sharesOf } from '../problem/pricing.ts';
import { isActive, type Requirement, type Plan, type Problem } from '../problem/problem.ts';
import { countOf } from '../problem/sameness.ts';

/** Sets the columns that say of which kind of length there is more, given the units. */
type Setting = (units: (choice: number) => number, set: (column: number, value: number) => void) => void;

/** Values of all columns that say the same as a plan. */
export function seedOf(
  problem: Problem,
  columns: Columns,
  plan: Plan,
  count: number,
  settings: readonly Setting[],
): number[] {
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
  for (const code of plan.without) set(columns.without.get(code), 1);
  for (const option of plan.options) set(columns.options.get(option), 1);
  problem.requirements.forEach((requirement, index) => {
    if (requirement.how !== 'cut' || plan.unmet.includes(index) || !isActive(requirement, plan.options))
      return;
    setCuts(problem, columns, plan, requirement, index, set);
    settings[index]?.((choice) => plan.units[choice] ?? 0, set);
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
    set(columns.goodsIn[supplier]?.[at], exactToSolver(goods));
    set(columns.used.get(problem.suppliers[supplier]?.code ?? ''), 1);
  }
}

function setCuts(
  problem: Problem,
  columns: Columns,
  plan: Plan,
  requirement: Requirement,
  index: number,
  set: Setter,
): void {
  const cuts = plan.cuts[index] ?? [];
  const codeOf = (choice: number) => problem.suppliers[problem.choices[choice]?.supplier ?? -1]?.code;
  // The shelf may stand beside any one supplier: that one says where all comes from.
  const bought = requirement.choices.filter((choice) => (plan.units[choice] ?? 0) > 0).map(codeOf);
  set(columns.from[index]?.get(bought.find((code) => code !== '') ?? ''), 1);
  const times = new Map<number, number>();
  for (const cut of cuts) {
    const metre = columns.metre[index]?.get(cut.choice);
    if (metre) requirement.pieces.forEach((piece, at) => set(metre[at], countOf(cut.pieces, piece)));
    const patterns = requirement.patterns?.get(cut.choice) ?? [];
    const at = patterns.findIndex((pattern) => holds(requirement, pattern, cut.pieces));
    const column = columns.patterns[index]?.get(cut.choice)?.[at];
    if (column === undefined) continue;
    times.set(column, (times.get(column) ?? 0) + cut.lengths);
    set(column, times.get(column) ?? 0);
  }
}

/** Whether a pattern gives at least these pieces. */
function holds(
  requirement: Requirement,
  pattern: Pattern,
  pieces: Plan['cuts'][number][number]['pieces'],
): boolean {
  return requirement.pieces.every((piece, at) => (pattern[at] ?? 0) >= countOf(pieces, piece));
}
