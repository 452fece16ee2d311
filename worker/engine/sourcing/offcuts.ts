import type { Filled, Length } from '../cutting/offcuts/lengths.ts';
import { recut, STEPS } from '../cutting/offcuts/recut.ts';
import { isActive, type Cut, type Requirement, type Plan, type Problem } from './problem/problem.ts';
import { eachFor } from './problem/units.ts';

/** Steps that all requirements together take at the most; each has at least its least. */
const STEPS_IN_ALL = 1_000_000;
const LEAST_STEPS = 10_000;

/**
 * The same purchases, each requirement cut out of them as `recut` says: fewest lengths opened, own offcuts before new lengths,
 * longest offcuts of `keepMm` and more. Lengths off the shelf that are not opened stay there. Costs are the same.
 */
export function withLongOffcuts(problem: Problem, plan: Plan, keepMm: number): Plan {
  const cut = problem.requirements.flatMap((requirement, index) => {
    const isCut =
      requirement.how === 'cut' && !plan.unmet.includes(index) && isActive(requirement, plan.options);
    return isCut && (plan.cuts[index] ?? []).length > 0 ? [{ requirement, index }] : [];
  });
  if (cut.length === 0) return plan;
  const steps = Math.max(LEAST_STEPS, Math.min(STEPS, Math.floor(STEPS_IN_ALL / cut.length)));
  const cuts = [...plan.cuts];
  const units = [...plan.units];
  for (const { requirement, index } of cut) {
    const lengths = lengthsOf(problem, plan, requirement, index);
    const given = filledBy(plan.cuts[index] ?? [], lengths);
    const { filled } = recut(lengths, given, keepMm, steps);
    cuts[index] = cutsOf(filled, lengths);
    for (const { own, choices } of lengths)
      for (const choice of own ? choices.keys() : []) units[choice] = openedOf(cuts[index], choice);
  }
  return { ...plan, units, cuts };
}

/** Lengths alike, with the choices that they are of and how many of each. */
interface OfChoices extends Length {
  choices: ReadonlyMap<number, number>;
}

/** What is there to cut a requirement from: its shelf's lengths first, then what is bought, in the order of the choices. */
function lengthsOf(problem: Problem, plan: Plan, requirement: Requirement, index: number): OfChoices[] {
  const alike = new Map<string, OfChoices>();
  for (const at of requirement.choices) {
    const choice = problem.choices[at];
    const units = plan.units[at] ?? 0;
    if (!choice || units === 0) continue;
    const isMetre = choice.form === 'metre';
    const usableMm = eachFor(choice, index) * (isMetre ? units : 1);
    const count = isMetre ? 1 : units;
    const { wave } = choice;
    const own = problem.suppliers[choice.supplier]?.own === true;
    const key = `${usableMm} ${wave} ${own}`;
    const before = alike.get(key);
    const choices = new Map([...(before?.choices ?? []), [at, count]]);
    alike.set(key, { usableMm, wave, own, count: (before?.count ?? 0) + count, choices });
  }
  return [...alike.values()].sort((a, b) => Number(b.own) - Number(a.own));
}

function filledBy(cuts: readonly Cut[], lengths: readonly OfChoices[]): Filled[] {
  return cuts.map(({ choice, lengths: times, pieces }) => ({
    length: lengths.findIndex(({ choices }) => choices.has(choice)),
    times,
    pieces,
  }));
}

/** By choice: of lengths alike those of the first choice are opened first. */
function cutsOf(filled: readonly Filled[], lengths: readonly OfChoices[]): Cut[] {
  const left = lengths.map(({ choices }) => new Map(choices));
  return filled.flatMap(({ length, times, pieces }) => {
    const cuts: Cut[] = [];
    let rest = times;
    for (const [choice, many] of left[length] ?? []) {
      const own = Math.min(rest, many);
      if (own === 0) continue;
      left[length]?.set(choice, many - own);
      rest -= own;
      cuts.push({ choice, lengths: own, pieces });
    }
    return cuts;
  });
}

function openedOf(cuts: readonly Cut[] = [], choice: number): number {
  return cuts.reduce((sum, cut) => (cut.choice === choice ? sum + cut.lengths : sum), 0);
}
