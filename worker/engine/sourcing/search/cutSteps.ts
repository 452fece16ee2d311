import type { Control } from '../../model/control.ts';
import { exactToSolver } from '../../units/money.ts';
import { NOTHING_LEFT } from '../model/aims.ts';
import { startingKnowledge } from '../model/counted.ts';
import { bestMix } from '../model/mix.ts';
import type { Demand, Plan, Problem } from '../problem/problem.ts';
import { lineCost } from '../problem/units.ts';
import { aloneProblem } from './aloneProblem.ts';
import type { Step } from './network.ts';
import { MICROGRAMS } from './parcels.ts';

/** By demand that is cut: by supplier, what all its pieces cost there at the least. */
export type CutSteps = ReadonlyMap<number, ReadonlyMap<number, readonly Step[]>>;

/**
 * For each demand that is cut and comes from one supplier: the cheapest lengths of each, out of which all pieces come, in
 * one order. Nothing that is dearer there is worth looking at but to reach a threshold, which any money does. Undefined
 * for a demand where that is not all: several orders, stock that others have too, more than one supplier, time that is out.
 */
export async function cutStepsOf(problem: Problem, control: Control): Promise<CutSteps> {
  const found = new Map<number, ReadonlyMap<number, readonly Step[]>>();
  const sharing = new Set(problem.sharedStock.flatMap(({ choices }) => choices));
  for (const [index, demand] of problem.demands.entries()) {
    if (demand.how !== 'cut') continue;
    const steps = await stepsOf(problem, index, demand, sharing, control);
    if (steps) found.set(index, steps);
  }
  return found;
}

async function stepsOf(
  problem: Problem,
  index: number,
  { choices, oneSupplier }: Demand,
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
  const alone = aloneProblem(problem, index, kept);
  const knowledge = await startingKnowledge(alone, control);
  const mix = await bestMix(alone, { least: 'cost', left: NOTHING_LEFT }, knowledge, control);
  if (mix.status === 'infeasible') return undefined;
  return mix.status === 'optimal' ? stepOf(problem, kept, mix.plan) : 'stopped';
}

function stepOf(problem: Problem, kept: readonly number[], { units, cuts }: Plan): Step {
  const lines = units.flatMap((many, place) => (many > 0 ? [{ choice: kept[place]!, units: many }] : []));
  const bought = lines.map(({ choice, units: many }) => ({ choice: problem.choices[choice]!, many }));
  return {
    gives: 1,
    value: exactToSolver(bought.reduce((sum, { choice, many }) => sum + lineCost(choice, many), 0n)),
    grams: bought.reduce((sum, { choice, many }) => sum + choice.microgramsPerUnit * many, 0) / MICROGRAMS,
    lines,
    cuts: (cuts[0] ?? []).map((cut) => ({ ...cut, choice: kept[cut.choice]! })),
  };
}
