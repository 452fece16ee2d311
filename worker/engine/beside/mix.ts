import { suppliersIn } from '../sourcing/problem/pricing.ts';
import { isActive, type Plan, type Problem } from '../sourcing/problem/problem.ts';
import { halfMinor, type Exact } from '../units/money.ts';

/** The quote's own mix: what others are held against. Costs are in the problem's scale. */
export interface Quoted {
  problem: Problem;
  plan: Plan;
  cost: Exact;
  /** No mix that leaves no more undone costs less. */
  bound: Exact;
}

/** A mix beside the quote's. `bound`: no such mix that leaves no more undone costs less. */
export interface Mix {
  plan: Plan;
  cost: Exact;
  bound: Exact;
  proven: boolean;
}

/** A plan with what is known of it, and whether that is proof. */
export function mixOf({ scale }: Problem, { plan, cost, bound }: Pick<Mix, 'plan' | 'cost' | 'bound'>): Mix {
  return { plan, cost, bound, proven: cost - bound < halfMinor(scale) };
}

/** Whether a plan leaves more undone than another: suppliers insisted on, or requirements. */
export function isWorse(plan: Plan, than: Plan): boolean {
  return plan.without.length > than.without.length || plan.unmet.length > than.unmet.length;
}

/** Whether a plan meets any requirement at all. */
export function meetsSome({ requirements }: Problem, { unmet, options }: Plan): boolean {
  return unmet.length < requirements.filter((requirement) => isActive(requirement, options)).length;
}

/** The suppliers insisted on from whom the quote does buy: other mixes are to buy from them as well. */
export function insistedIn({ problem, plan }: Pick<Quoted, 'problem' | 'plan'>): string[] {
  return problem.insistOn.filter((code) => !plan.without.includes(code));
}

/** The codes of a plan's suppliers in byte order. */
export function setOf(problem: Problem, plan: Pick<Plan, 'units'>): string[] {
  return [...suppliersIn(problem, plan)].sort();
}

/** The code of a choice's supplier; undefined of the own shelf. */
export function sellerOf({ choices, suppliers }: Problem, choice: number): string | undefined {
  const terms = suppliers[choices[choice]?.supplier ?? -1];
  return terms === undefined || terms.own ? undefined : terms.code;
}
