import type { Control } from '../../model/control.ts';
import { exactToSolver } from '../../units/money.ts';
import { NOTHING_LEFT } from '../model/aims.ts';
import { startingKnowledge, startingRows, type Known } from '../model/counted.ts';
import { bestMix } from '../model/mix.ts';
import type { Cut, Requirement, Plan, Problem } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';
import { aloneProblem } from './aloneProblem.ts';
import type { Step } from './network.ts';
import { MICROGRAMS } from './parcels.ts';
import { offeredOf, stairOf } from './stairs.ts';
import { SUM_OF_PRICES } from '../../solver/tolerances.ts';

/**
 * What is worked out of requirements that are cut before anything else. `steps`: by supplier, what all pieces cost there at the
 * least. `rows`: where that is not all, inequalities that all lengths satisfy out of which the pieces come.
 */
export interface CutSteps {
  steps: ReadonlyMap<number, ReadonlyMap<number, readonly Step[]>>;
  rows: ReadonlyMap<number, Known['rows']>;
}

/**
 * For each requirement that is cut and comes from one supplier: the cheapest lengths of each, out of which all pieces come, in
 * one order. Nothing that is dearer there is worth looking at but to reach a threshold, which any money does. Undefined
 * for a requirement where that is not all: several orders, stock that others have too, more than one supplier, time that is out.
 */
export async function cutStepsOf(problem: Problem, control: Control): Promise<CutSteps> {
  const found = new Map<number, ReadonlyMap<number, readonly Step[]>>();
  const rows = new Map<number, Known['rows']>();
  const sharing = new Set(problem.sharedStock.flatMap(({ choices }) => choices));
  for (const [index, requirement] of problem.requirements.entries()) {
    if (requirement.how !== 'cut') continue;
    const steps = await stepsOf(problem, index, requirement, sharing, control);
    if (steps) found.set(index, steps);
    // With several orders what is worth what hangs on the order.
    else if (requirement.choices.every((at) => problem.choices[at]!.wave <= 1))
      rows.set(index, await startingRows(problem, requirement, index, control));
  }
  return { steps: found, rows };
}

async function stepsOf(
  problem: Problem,
  index: number,
  { choices, oneSupplier }: Requirement,
  sharing: ReadonlySet<number>,
  control: Control,
): Promise<Map<number, Step[]> | undefined> {
  const chosen = choices.map((at) => problem.choices[at]!);
  const isOwn = (at: number) => problem.suppliers[problem.choices[at]!.supplier]?.own === true;
  const suppliers = new Set(chosen.filter(({ wave }) => wave > 0).map(({ supplier }) => supplier));
  const isPlain =
    (oneSupplier || suppliers.size === 1) &&
    chosen.every(({ wave, serves }) => wave <= 1 && serves.length === 1) &&
    !choices.some((at) => sharing.has(at));
  if (!isPlain) return undefined;
  const shelf = choices.filter(isOwn);
  const steps = new Map<number, Step[]>();
  for (const supplier of suppliers.size > 0 ? suppliers : [-1]) {
    const own = choices.filter((at) => problem.choices[at]!.supplier === supplier);
    const bands = problem.suppliers[supplier]?.bands ?? [];
    // Where weight counts, what is cheapest need not be lightest.
    if (own.length > 1 && bands.some(({ belowMicrograms }) => belowMicrograms !== undefined))
      return undefined;
    const answer = await cheapest(problem, index, [...shelf, ...own], control);
    if (answer === 'stopped') return undefined;
    if (answer)
      steps.set(
        answer.lines.every(({ choice }) => isOwn(choice)) ? problem.choices[shelf[0]!]!.supplier : supplier,
        [answer],
      );
  }
  return steps;
}

async function cheapest(
  problem: Problem,
  index: number,
  kept: readonly number[],
  control: Control,
): Promise<Step | 'stopped' | undefined> {
  if (kept.length === 0) return undefined;
  const plain = plainly(problem, index, kept);
  if (plain) return plain;
  const alone = aloneProblem(problem, index, kept);
  const knowledge = await startingKnowledge(alone, control);
  const mix = await bestMix(alone, { least: 'cost', left: NOTHING_LEFT }, knowledge, control);
  if (mix.status === 'infeasible') return undefined;
  return mix.status === 'optimal' ? stepOf(problem, kept, mix.plan) : 'stopped';
}

/** A way that is known, where as much in length costs no less, however it is cut. */
function plainly(problem: Problem, index: number, kept: readonly number[]): Step | undefined {
  const { need, ways } = problem.requirements[index]!;
  const offered = kept.flatMap((at) => offeredOf(problem.choices, at, index));
  const least = stairOf(offered, need, false)?.at(-1);
  if (!least || least.gives < need) return undefined;
  const known = ways
    .filter(({ units }) => units.every(({ choice }) => kept.includes(choice)))
    .map(({ units, cuts }) => boughtStep(problem, units, cuts))
    .sort((a, b) => a.value - b.value)[0];
  return known && known.value <= least.value + SUM_OF_PRICES ? known : undefined;
}

function boughtStep(problem: Problem, lines: Step['lines'], cuts: readonly Cut[]): Step {
  const bought = lines.map(({ choice, units }) => ({ choice: problem.choices[choice]!, units }));
  return {
    gives: 1,
    value: exactToSolver(bought.reduce((sum, { choice, units }) => sum + lineCost(choice, units), 0n)),
    grams: bought.reduce((sum, { choice, units }) => sum + choice.microgramsPerUnit * units, 0) / MICROGRAMS,
    lines,
    cuts,
  };
}

/** What a plan of the requirement alone buys, in the problem's choices. */
function stepOf(problem: Problem, kept: readonly number[], { units, cuts }: Plan): Step {
  return boughtStep(
    problem,
    units.flatMap((many, place) => (many > 0 ? [{ choice: kept[place]!, units: many }] : [])),
    (cuts[0] ?? []).map((cut) => ({ ...cut, choice: kept[cut.choice]! })),
  );
}
