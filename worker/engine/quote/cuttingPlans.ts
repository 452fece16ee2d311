import { totalMm } from '../cutting/firstFit.ts';
import { addTo } from '../model/group.ts';
import type { CutLength, CuttingPlan, Requirement as RolledUp } from '../model/result.ts';
import {
  isActive,
  type Cut,
  type Requirement,
  type Plan,
  type Problem,
} from '../sourcing/problem/problem.ts';
import { eachFor } from '../sourcing/problem/units.ts';
import type { Mix } from './purchases.ts';

/**
 * Which pieces come out of which bought length, and what is left of each; lengths that stay whole stand last. `proven`:
 * whether the mix is, so that no less could be bought.
 */
export function cuttingPlansOf({ problem, plan, sourced }: Mix, proven: boolean): CuttingPlan[] {
  return problem.requirements.flatMap((requirement, index): CuttingPlan[] => {
    const rolledUp = sourced[index]?.rolledUp;
    const isCut =
      requirement.how !== 'sum' && !plan.unmet.includes(index) && isActive(requirement, plan.options);
    if (!isCut || !rolledUp) return [];
    return [
      {
        requirement: requirement.id,
        exact: requirement.how === 'single' || requirement.patterns !== undefined || proven,
        lengths: withNames(lengthsOf(problem, plan, requirement, index), rolledUp),
      },
    ];
  });
}

/** Each piece with what it is: of pieces of one length those of the requirement in turn, spares last. */
function withNames(lengths: readonly CutLength[], requirement: RolledUp): CutLength[] {
  const names = new Map<number, string[]>();
  const add = (mm: number, count: number, name: string) => {
    for (let time = 0; time < count; time++) addTo(names, mm, name);
  };
  if (requirement.kind === 'wire')
    for (const { loom, wire, count, cutMm } of requirement.pieces) add(cutMm, count, `${loom}/${wire}`);
  else if (requirement.kind === 'length')
    for (const { loom, what, count, cutMm } of requirement.pieces) add(cutMm, count, `${loom}/${what}`);
  // All that is cut beside the pieces is spare; with several orders it may come in other pieces than in one.
  const taken = new Map<number, number>();
  return lengths.map((length) => ({
    ...length,
    pieces: length.pieces.map(({ cutMm, count }) => {
      const from = taken.get(cutMm) ?? 0;
      const to = from + count * length.lengths;
      taken.set(cutMm, to);
      const own = (names.get(cutMm) ?? []).slice(from, to);
      const spares = Array<string>(to - from - own.length).fill('spare');
      return { cutMm, count, names: [...own, ...spares] };
    }),
  }));
}

function lengthsOf(problem: Problem, plan: Plan, requirement: Requirement, index: number): CutLength[] {
  const cuts = plan.cuts[index] ?? [];
  const cut = cuts.map(({ choice, lengths, pieces }): CutLength => {
    const usableMm = usableOf(problem, plan, choice, index);
    return {
      ...named(problem, choice),
      lengths,
      usableMm,
      pieces: byLength(pieces),
      offcutMm: usableMm - totalMm(pieces),
    };
  });
  const whole = requirement.choices.flatMap((at): CutLength[] => {
    const choice = problem.choices[at];
    if (!choice) return [];
    const bought = choice.form === 'metre' ? Math.min(1, plan.units[at] ?? 0) : (plan.units[at] ?? 0);
    const used = cuts.reduce((sum, { choice: of, lengths }) => (of === at ? sum + lengths : sum), 0);
    const usableMm = usableOf(problem, plan, at, index);
    return bought > used
      ? [{ ...named(problem, at), lengths: bought - used, usableMm, pieces: [], offcutMm: usableMm }]
      : [];
  });
  return [...cut, ...whole];
}

/** The offer or the item on the shelf; with which order it comes, where there are several. */
function named(problem: Problem, at: number): Pick<CutLength, 'offer' | 'stock' | 'wave'> {
  const choice = problem.choices[at];
  if (!choice) return {};
  if (problem.suppliers[choice.supplier]?.own === true) return { stock: choice.offer };
  const several = problem.suppliers.some(({ wave }) => wave > 1);
  return { offer: choice.offer, ...(several ? { wave: choice.wave } : {}) };
}

/** Pieces of one length together, whichever order brings them. */
function byLength(pieces: Cut['pieces']): CutLength['pieces'] {
  const counts = new Map<number, number[]>();
  for (const { mm, count } of pieces) addTo(counts, mm, count);
  return [...counts].map(([cutMm, own]) => ({ cutMm, count: own.reduce((sum, count) => sum + count, 0) }));
}

/** Of one fixed length what is usable of it; by the metre all that is bought, in one. */
function usableOf(problem: Problem, plan: Plan, at: number, index: number): number {
  const choice = problem.choices[at];
  if (!choice) return 0;
  const each = eachFor(choice, index);
  return choice.form === 'metre' ? each * (plan.units[at] ?? 0) : each;
}
