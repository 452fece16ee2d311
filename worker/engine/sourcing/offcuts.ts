import type { Filled, Length } from '../cutting/offcuts/lengths.ts';
import { recut, STEPS } from '../cutting/offcuts/recut.ts';
import {
  isActive,
  type Choice,
  type Cut,
  type Requirement,
  type Plan,
  type Problem,
} from './problem/problem.ts';
import { eachFor } from './problem/units.ts';

/** Steps that all requirements together take at the most; each has at least its least. */
const STEPS_IN_ALL = 1_000_000;
const LEAST_STEPS = 10_000;

/** Whether a choice is of a part that stands in for what a requirement needs. */
export type StandsIn = (requirement: number, choice: number) => boolean;

/**
 * The same purchases, each requirement cut out of them as `recut` says: fewest lengths opened, own offcuts before new lengths,
 * the shortest that serve, longest offcuts of `keepMm` and more. All lengths that lie free on the shelf are looked at, not only
 * those that the mix took, which was indifferent to their size; stand-ins only where the mix took them. Requirements that share
 * lengths off the shelf are cut one after the other. What is not opened stays on the shelf. Costs are the same.
 */
export function withLongOffcuts(
  problem: Problem,
  plan: Plan,
  keepMm: number,
  standsIn: StandsIn = () => false,
): Plan {
  const cut = problem.requirements.flatMap((requirement, index) => {
    const isCut =
      requirement.how === 'cut' && !plan.unmet.includes(index) && isActive(requirement, plan.options);
    return isCut && (plan.cuts[index] ?? []).length > 0 ? [{ requirement, index }] : [];
  });
  if (cut.length === 0) return plan;
  const steps = Math.max(LEAST_STEPS, Math.min(STEPS, Math.floor(STEPS_IN_ALL / cut.length)));
  const cuts = [...plan.cuts];
  const units = [...plan.units];
  const ownOf = ({ choices }: Requirement) => choices.filter((at) => isOwn(problem, at));
  // What the mix took off the shelf and did not open is free for all of them.
  for (const { requirement, index } of cut)
    for (const at of ownOf(requirement)) units[at] = openedOf(cuts[index], at);
  for (const { requirement, index } of cut) {
    const countOf = (choice: Choice, at: number): number => {
      const taken = plan.units[at] ?? 0;
      if (!isOwn(problem, at)) return taken;
      if (choice.serves.length > 1) return openedOf(cuts[index], at);
      return taken === 0 && standsIn(index, at) ? 0 : freeOf(problem, units, choice, at);
    };
    const lengths = lengthsOf(problem, requirement, index, countOf);
    const given = filledBy(plan.cuts[index] ?? [], lengths);
    const { filled } = recut(lengths, given, keepMm, steps);
    cuts[index] = cutsOf(filled, lengths);
    for (const at of ownOf(requirement)) units[at] = openedOf(cuts[index], at);
  }
  return { ...plan, units, cuts };
}

function isOwn({ choices, suppliers }: Problem, at: number): boolean {
  const choice = choices[at];
  return choice !== undefined && suppliers[choice.supplier]?.own === true;
}

/** Lengths of a choice off the shelf that its requirement may open: all that there are, less what others open of the item. */
function freeOf(
  { sharedStock }: Problem,
  units: readonly number[],
  { mostUnits }: Choice,
  at: number,
): number {
  return sharedStock.reduce(
    (free, row) => {
      if (!row.choices.includes(at)) return free;
      const others = row.choices.reduce((sum, one) => (one === at ? sum : sum + (units[one] ?? 0)), 0);
      return Math.max(units[at] ?? 0, Math.min(free, row.mostUnits - others));
    },
    mostUnits ?? units[at] ?? 0,
  );
}

/** Lengths alike, with the choices that they are of and how many of each. */
interface OfChoices extends Length {
  choices: ReadonlyMap<number, number>;
}

/** What is there to cut a requirement from: its shelf's lengths first, then what is bought, in the order of the choices. */
function lengthsOf(
  problem: Problem,
  requirement: Requirement,
  index: number,
  countOf: (choice: Choice, at: number) => number,
): OfChoices[] {
  const alike = new Map<string, OfChoices>();
  for (const at of requirement.choices) {
    const choice = problem.choices[at];
    const units = choice ? countOf(choice, at) : 0;
    if (!choice || units === 0) continue;
    const isMetre = choice.form === 'metre';
    const usableMm = eachFor(choice, index) * (isMetre ? units : 1);
    const count = isMetre ? 1 : units;
    const { wave } = choice;
    const own = isOwn(problem, at);
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
