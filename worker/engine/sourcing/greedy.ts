import { byCode } from '../model/code.ts';
import { costOf, unitsAlone } from './pricing.ts';
import type { Choice, Demand, Plan, Problem } from './problem.ts';

/**
 * Each demand at the one offer whose own line costs least, postage not looked at. Ties: least waste, then the offer's
 * code. What people do by hand, and what the quote is compared with.
 */
export function cheapestSinglePrices(problem: Problem): Plan {
  return planOf(problem, (demand) => cheapest(problem, demand, () => true)) ?? [];
}

/** The cheaper of the cheapest single prices and the best supplier who can send all of it: where the solver starts. */
export function greedyPlan(problem: Problem): Plan {
  const plans = [cheapestSinglePrices(problem)];
  for (let supplier = 0; supplier < problem.suppliers.length; supplier++) {
    const plan = planOf(problem, (demand) =>
      cheapest(problem, demand, (choice) => choice.supplier === supplier),
    );
    if (plan) plans.push(plan);
  }
  return plans.reduce((best, plan) => (costOf(problem, plan) < costOf(problem, best) ? plan : best));
}

function planOf(problem: Problem, choose: (demand: Demand) => number | undefined): Plan | undefined {
  const plan = problem.choices.map(() => 0);
  for (const demand of problem.demands) {
    const index = choose(demand);
    const choice = index === undefined ? undefined : problem.choices[index];
    if (index === undefined || !choice) return undefined;
    plan[index] = unitsAlone(choice, demand.need);
  }
  return plan;
}

function cheapest(
  problem: Problem,
  demand: Demand,
  allowed: (choice: Choice) => boolean,
): number | undefined {
  const lines = demand.choices.flatMap((index) => {
    const choice = problem.choices[index];
    if (!choice || !allowed(choice)) return [];
    const units = unitsAlone(choice, demand.need);
    return [{ index, offer: choice.offer, cost: choice.price * BigInt(units), bought: units * choice.unit }];
  });
  lines.sort((a, b) => compare(a.cost, b.cost) || a.bought - b.bought || byCode(a.offer, b.offer));
  return lines[0]?.index;
}

const compare = (a: bigint, b: bigint) => (a < b ? -1 : a > b ? 1 : 0);
