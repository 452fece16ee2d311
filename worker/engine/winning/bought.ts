import { isActive, type Choice, type Plan, type Problem } from '../sourcing/problem/problem.ts';

/** The choices of one offer in a problem, one an order. */
export function choicesOf({ choices, suppliers }: Problem, offer: string): number[] {
  return choices.flatMap((choice, at) => (isOf(choice, offer, suppliers) ? [at] : []));
}

/** Whether a choice is of this offer; what lies on the shelf has codes of its own. */
export function isOf(choice: Choice, offer: string, suppliers: Problem['suppliers']): boolean {
  return choice.offer === offer && suppliers[choice.supplier]?.own !== true;
}

/** The orders that buy some of the offer, with the units. */
export function boughtOf(problem: Problem, offer: string, plan: Plan): { choice: Choice; units: number }[] {
  return choicesOf(problem, offer).flatMap((at) => {
    const choice = problem.choices[at];
    const units = plan.units[at] ?? 0;
    return choice && units > 0 ? [{ choice, units }] : [];
  });
}

/** Whether what a plan buys of the offer serves a requirement that it meets: else it buys it for nothing but its price. */
export function isOfUse(problem: Problem, offer: string, plan: Plan): boolean {
  return boughtOf(problem, offer, plan).some(({ choice }) =>
    choice.serves.some(({ requirement }) => {
      const asked = problem.requirements[requirement];
      return asked !== undefined && isActive(asked, plan.options) && !plan.unmet.includes(requirement);
    }),
  );
}
