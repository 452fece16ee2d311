import { sharesOf, suppliersIn, takes } from './pricing.ts';
import type { Plan, Problem } from './problem.ts';

/** Whether a plan can be ordered as it is: every supplier takes its order, there is as much in stock, and the request allows it. */
export function isAllowed(problem: Problem, plan: Pick<Plan, 'units'>): boolean {
  return isOrderable(problem, plan) && isInStock(problem, plan) && isAsked(problem, plan);
}

function isOrderable(problem: Problem, plan: Pick<Plan, 'units'>): boolean {
  return sharesOf(problem, plan).every((share) => takes(problem, share));
}

export function isInStock({ choices, sharedStock }: Problem, { units }: Pick<Plan, 'units'>): boolean {
  return (
    choices.every(({ mostUnits }, index) => mostUnits === undefined || (units[index] ?? 0) <= mostUnits) &&
    sharedStock.every(
      ({ choices: own, mostUnits }) => own.reduce((sum, at) => sum + (units[at] ?? 0), 0) <= mostUnits,
    )
  );
}

/** From no more suppliers than are allowed, and from all that are insisted on. */
function isAsked(problem: Problem, plan: Pick<Plan, 'units'>): boolean {
  const { atMostSuppliers = Infinity, insistOn } = problem;
  if (atMostSuppliers === Infinity && insistOn.length === 0) return true;
  const suppliers = suppliersIn(problem, plan);
  return suppliers.size <= atMostSuppliers && insistOn.every((code) => suppliers.has(code));
}
