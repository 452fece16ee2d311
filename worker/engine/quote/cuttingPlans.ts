import { totalMm } from '../cutting/firstFit.ts';
import type { CutLength, CuttingPlan } from '../model/result.ts';
import type { Demand, Plan, Problem } from '../sourcing/problem.ts';
import { eachFor } from '../sourcing/units.ts';

/** Which pieces come out of which bought length, and what is left of each; lengths that stay whole stand last. */
export function cuttingPlansOf(problem: Problem, plan: Plan): CuttingPlan[] {
  return problem.demands.flatMap((demand, index): CuttingPlan[] =>
    demand.how === 'sum' || plan.unmet.includes(index)
      ? []
      : [
          {
            requirement: demand.requirement,
            exact: demand.how === 'single' || demand.patterns !== undefined,
            lengths: lengthsOf(problem, plan, demand, index),
          },
        ],
  );
}

function lengthsOf(problem: Problem, plan: Plan, demand: Demand, index: number): CutLength[] {
  const cuts = plan.cuts[index] ?? [];
  const cut = cuts.map(({ choice, lengths, pieces }): CutLength => {
    const usableMm = usableOf(problem, plan, choice, index);
    return {
      offer: problem.choices[choice]?.offer ?? '',
      lengths,
      usableMm,
      pieces: pieces.map(({ mm, count }) => ({ cutMm: mm, count })),
      offcutMm: usableMm - totalMm(pieces),
    };
  });
  const whole = demand.choices.flatMap((at): CutLength[] => {
    const choice = problem.choices[at];
    if (!choice) return [];
    const bought = choice.form === 'metre' ? Math.min(1, plan.units[at] ?? 0) : (plan.units[at] ?? 0);
    const used = cuts.reduce((sum, { choice: of, lengths }) => (of === at ? sum + lengths : sum), 0);
    const usableMm = usableOf(problem, plan, at, index);
    return bought > used
      ? [{ offer: choice.offer, lengths: bought - used, usableMm, pieces: [], offcutMm: usableMm }]
      : [];
  });
  return [...cut, ...whole];
}

/** Of one fixed length what is usable of it; by the metre all that is bought, in one. */
function usableOf(problem: Problem, plan: Plan, at: number, index: number): number {
  const choice = problem.choices[at];
  if (!choice) return 0;
  const each = eachFor(choice, index);
  return choice.form === 'metre' ? each * (plan.units[at] ?? 0) : each;
}
