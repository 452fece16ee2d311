import type { Control } from '../model/control.ts';
import { costOf } from '../sourcing/problem/pricing.ts';
import type { Plan } from '../sourcing/problem/problem.ts';
import { solveProblem } from '../sourcing/solve/solve.ts';
import type { Exact } from '../units/money.ts';
import { insistedIn, sellerOf, setOf, type Quoted } from './mix.ts';
import { movedLine, type Moved, type Stays } from './movedLine.ts';
import { isOver, sliceOf } from './time.ts';

/** What becomes of the whole where one line's requirement comes from the other suppliers of the mix; or why it cannot. */
export type Elsewhere = { line: number } & (
  | { why: Stays | 'insistedOn' | 'notWorked' }
  | {
      /** Choices of which more is bought than before. */
      from: number[];
      plan: Plan;
      cost: Exact;
    }
);

/** Each line of the quote bought elsewhere in the mix, by choice. Throws Cancelled. */
export async function elsewhereOf(quoted: Quoted, control: Control): Promise<Elsewhere[]> {
  const { problem, plan } = quoted;
  const lines = problem.choices.flatMap((_, at) =>
    (plan.units[at] ?? 0) > 0 && sellerOf(problem, at) !== undefined ? [at] : [],
  );
  const found: Elsewhere[] = [];
  for (const [at, line] of lines.entries())
    found.push(await elsewhere(quoted, line, sliceOf(control, lines.length - at)));
  return found;
}

/** Exact: of all ways to move the line the cheapest. */
async function elsewhere(quoted: Quoted, line: number, control: Control): Promise<Elsewhere> {
  const { problem, plan } = quoted;
  const moved = movedLine(quoted, line);
  if (typeof moved === 'string') return { line, why: moved };
  if (isOver(control)) return { line, why: 'notWorked' };
  const solved = await solveProblem(moved.problem, control, { ties: false });
  if (!solved.proven) return { line, why: 'notWorked' };
  if (solved.plan.unmet.length > 0) return { line, why: 'nobodyElse' };
  const whole = wholeOf(plan, moved, solved.plan);
  const sellers = setOf(problem, whole);
  if (!insistedIn(quoted).every((code) => sellers.includes(code))) return { line, why: 'insistedOn' };
  const from = whole.units.flatMap((count, at) => (count > (plan.units[at] ?? 0) ? [at] : []));
  return { line, from, plan: whole, cost: costOf(problem, whole) };
}

/** The quote's plan with what was found for the small problem in it. */
function wholeOf(plan: Plan, { kept, places }: Moved, found: Plan): Plan {
  const units = [...kept];
  places.choices.forEach((place, at) => {
    if (place !== undefined) units[place] = found.units[at] ?? 0;
  });
  const cuts = [...plan.cuts];
  places.requirements.forEach((requirement, at) => {
    if (requirement !== undefined)
      cuts[requirement] = (found.cuts[at] ?? []).map((cut) => ({
        ...cut,
        choice: places.choices[cut.choice] ?? -1,
      }));
  });
  return { ...plan, units, cuts };
}
