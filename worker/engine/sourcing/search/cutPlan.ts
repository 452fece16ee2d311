import { exactToSolver } from '../../units/money.ts';
import { addTo } from '../../model/group.ts';
import type { Cut, Problem } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';
import type { Step } from './network.ts';
import { MICROGRAMS } from './parcels.ts';

/** All that is bought for a requirement, by supplier: a step of each. What comes off the own shelf stands with the first of the others. */
export type CutPlan = readonly { supplier: number; step: Step }[];

/** What is bought, and cut so, as a plan; lengths off the shelf that nothing is cut from stay there. */
export function cutPlanOf(problem: Problem, lines: Step['lines'], cuts: readonly Cut[]): CutPlan {
  const isOwn = (at: number) => problem.suppliers[problem.choices[at]!.supplier]!.own;
  const cutFrom = (at: number) =>
    cuts.reduce((sum, { choice, lengths }) => (choice === at ? sum + lengths : sum), 0);
  const sent = lines.find(({ choice }) => !isOwn(choice))?.choice ?? lines[0]?.choice ?? 0;
  const bySupplier = new Map<number, { choice: number; units: number }[]>();
  for (const { choice, units } of lines) {
    const used = isOwn(choice) && cuts.length > 0 ? cutFrom(choice) : units;
    if (used > 0)
      addTo(bySupplier, problem.choices[isOwn(choice) ? sent : choice]!.supplier, { choice, units: used });
  }
  return [...bySupplier].map(([supplier, own], place) => ({
    supplier,
    step: { ...boughtStep(problem, own, supplier), cuts: place === 0 ? cuts : [] },
  }));
}

function boughtStep({ choices }: Problem, lines: Step['lines'], supplier: number): Step {
  const bought = lines
    .map(({ choice, units }) => ({ choice: choices[choice]!, units }))
    .filter(({ choice }) => choice.supplier === supplier);
  return {
    gives: 1,
    value: exactToSolver(bought.reduce((sum, { choice, units }) => sum + lineCost(choice, units), 0n)),
    grams: bought.reduce((sum, { choice, units }) => sum + choice.microgramsPerUnit * units, 0) / MICROGRAMS,
    lines,
  };
}
