import type { Control } from '../../model/control.ts';
import { SUM_OF_PRICES } from '../../solver/tolerances.ts';
import { NOTHING_LEFT } from '../model/aims.ts';
import { startingKnowledge, startingRows, type Known } from '../model/counted.ts';
import { bestMix } from '../model/mix.ts';
import type { Requirement, Plan, Problem } from '../problem/problem.ts';
import { aloneProblem } from './aloneProblem.ts';
import { cutPlanOf, type CutPlan } from './cutPlan.ts';
import { cuttingBudget, cutPlansOf, type CuttingBudget } from './cutPlans.ts';
import { offeredOf, stairOf } from './stairs.ts';

/**
 * What is worked out of requirements that are cut before anything else. `plans`: all that is worth buying for one. `rows`: where
 * that is not all, inequalities that all lengths satisfy out of which the pieces come.
 */
export interface CutPlans {
  plans: ReadonlyMap<number, readonly CutPlan[]>;
  rows: ReadonlyMap<number, Known['rows']>;
}

/**
 * For each requirement that is cut: all purchases that are worth looking at. Where it comes from one supplier in one order, and
 * weight does not count, that is what costs least there: nothing dearer is worth looking at but to reach a threshold, which
 * any money does. Nothing of a requirement where stock is shared with others, or purchases are too many.
 */
export async function cutPlansByRequirement(problem: Problem, control: Control): Promise<CutPlans> {
  const found = new Map<number, readonly CutPlan[]>();
  const rows = new Map<number, Known['rows']>();
  const budget = cuttingBudget();
  for (const [index, requirement] of fewestFirst(problem)) {
    const plans = await plansOf(problem, index, { requirement, budget }, control);
    if (plans) found.set(index, plans);
    // With several orders what is worth what hangs on the order.
    else if (requirement.choices.every((at) => problem.choices[at]!.wave <= 1))
      rows.set(index, await startingRows(problem, requirement, index, control));
  }
  return { plans: found, rows };
}

/** What is cut, by how many pieces it has times how many choices. */
function fewestFirst({ requirements }: Problem): [number, Requirement][] {
  const size = ({ pieces, choices }: Requirement) => pieces.length * choices.length;
  return [...requirements.entries()]
    .filter(([, { how }]) => how === 'cut')
    .sort(([a, one], [b, other]) => size(one) - size(other) || a - b);
}

async function plansOf(
  problem: Problem,
  index: number,
  { requirement: { choices, oneSupplier }, budget }: { requirement: Requirement; budget: CuttingBudget },
  control: Control,
): Promise<readonly CutPlan[] | undefined> {
  const choiceOf = (at: number) => problem.choices[at]!;
  const own = new Set(choices);
  const isAlone =
    choices.every((at) => choiceOf(at).serves.length === 1) &&
    problem.sharedStock.every(
      (row) => row.choices.every((at) => own.has(at)) || !row.choices.some((at) => own.has(at)),
    );
  if (!isAlone) return undefined;
  const codeOf = (at: number) => problem.suppliers[choiceOf(at).supplier]!.code;
  const isShelf = (at: number) => problem.suppliers[choiceOf(at).supplier]!.own;
  const shelf = choices.filter(isShelf);
  const codes = [...new Set(choices.filter((at) => !isShelf(at)).map(codeOf))];
  const isOne = oneSupplier || codes.length <= 1;
  // To buy of a supplier that is insisted on more may be worth buying than is needed.
  if (!isOne && problem.insistOn.length > 0) return undefined;
  const scopes = isOne
    ? codes.map((code) => choices.filter((at) => codeOf(at) === code))
    : [choices.filter((at) => !isShelf(at))];
  const plans: CutPlan[] = [];
  for (const scope of scopes.length > 0 ? scopes : [[]]) {
    const kept = [...shelf, ...scope];
    if (kept.length === 0) continue;
    const found = isPlain(problem, scope)
      ? await cheapestOf(problem, index, kept, control)
      : await cutPlansOf(problem, index, kept, budget, control);
    if (!found) return undefined;
    plans.push(...found);
  }
  return plans;
}

/** Whether there is one price of all to be looked at: one supplier in one order, and where weight counts one choice. */
function isPlain({ choices, suppliers }: Problem, scope: readonly number[]): boolean {
  const [first] = scope;
  if (first === undefined) return true;
  const { supplier, wave } = choices[first]!;
  if (wave > 1 || scope.some((at) => choices[at]!.supplier !== supplier)) return false;
  return (
    scope.length === 1 ||
    suppliers[supplier]!.bands.every(({ belowMicrograms }) => belowMicrograms === undefined)
  );
}

/** The one plan that costs least, if there is any; undefined where that is not known. */
async function cheapestOf(
  problem: Problem,
  index: number,
  kept: readonly number[],
  control: Control,
): Promise<CutPlan[] | undefined> {
  const answer = await cheapest(problem, index, kept, control);
  return answer === 'stopped' ? undefined : answer ? [answer] : [];
}

async function cheapest(
  problem: Problem,
  index: number,
  kept: readonly number[],
  control: Control,
): Promise<CutPlan | 'stopped' | undefined> {
  const plain = plainly(problem, index, kept);
  if (plain) return plain;
  const alone = aloneProblem(problem, index, kept);
  const knowledge = await startingKnowledge(alone, control);
  const mix = await bestMix(alone, { least: 'cost', left: NOTHING_LEFT }, knowledge, control);
  if (mix.status === 'infeasible') return undefined;
  return mix.status === 'optimal' ? planOfAlone(problem, kept, mix.plan) : 'stopped';
}

/** A way that is known, where as much in length costs no less, however it is cut. */
function plainly(problem: Problem, index: number, kept: readonly number[]): CutPlan | undefined {
  const { need, ways } = problem.requirements[index]!;
  const offered = kept.flatMap((at) => offeredOf(problem.choices, at, index));
  const least = stairOf(offered, need, false)?.at(-1);
  if (!least || least.gives < need) return undefined;
  const known = ways
    .filter(({ units }) => units.every(({ choice }) => kept.includes(choice)))
    .map(({ units, cuts }) => cutPlanOf(problem, units, cuts))
    .sort((a, b) => valueOf(a) - valueOf(b))[0];
  return known && valueOf(known) <= least.value + SUM_OF_PRICES ? known : undefined;
}

const valueOf = (plan: CutPlan) => plan.reduce((sum, { step }) => sum + step.value, 0);

/** What a plan of the requirement alone buys, in the problem's choices. */
function planOfAlone(problem: Problem, kept: readonly number[], { units, cuts }: Plan): CutPlan {
  return cutPlanOf(
    problem,
    units.flatMap((many, place) => (many > 0 ? [{ choice: kept[place]!, units: many }] : [])),
    (cuts[0] ?? []).map((cut) => ({ ...cut, choice: kept[cut.choice]! })),
  );
}
