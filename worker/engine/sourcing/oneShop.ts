import type { Control } from '../model/control.ts';
import { compacted } from './compile.ts';
import { paidFor } from './pricing.ts';
import type { Demand, Problem } from './problem.ts';
import { solveProblem } from './solve.ts';
import { capacityFor, longestFrom } from './units.ts';

/** What all from one shop comes to. */
export interface OneShop {
  supplier: string;
  /** Needs that the shop does not meet. */
  unsourced: number;
  /** As it is paid, minor units. */
  paid: bigint;
}

/** The one shop that meets the most needs, and of those the cheapest; undefined where nobody sells anything. */
export async function bestShop(problem: Problem, control: Control): Promise<OneShop | undefined> {
  const shops = problem.suppliers.map((_, supplier) => shopOf(problem, supplier));
  const order = [...shops.keys()].sort(
    (a, b) => (shops[b]?.demands.length ?? 0) - (shops[a]?.demands.length ?? 0) || a - b,
  );
  let best: OneShop | undefined;
  for (const index of order) {
    const shop = shops[index];
    const left = problem.demands.length - (shop?.demands.length ?? 0);
    // Those that follow leave at least as many.
    if (!shop || shop.demands.length === 0 || (best && left > best.unsourced)) break;
    const solved = await solveProblem(shop, control);
    // What was not worked to its end may leave more unmet than the shop does.
    if (!solved.proven && solved.plan.unmet.length > 0) continue;
    const unsourced = left + solved.plan.unmet.length;
    const paid = paidFor(shop, solved.plan);
    const isBetter =
      !best || unsourced < best.unsourced || (unsourced === best.unsourced && paid < best.paid);
    if (isBetter) best = { supplier: problem.suppliers[index]?.code ?? '', unsourced, paid };
  }
  return best;
}

/** The problem with one supplier's offers alone, and the demands that these can meet. */
function shopOf(problem: Problem, supplier: number): Problem {
  const own = (choice: number) => problem.choices[choice]?.supplier === supplier;
  const demands = problem.demands.map((demand, index): Demand | undefined => {
    const choices = demand.choices.filter(own);
    const left: Demand = {
      ...demand,
      choices,
      patterns: demand.patterns && new Map([...demand.patterns].filter(([choice]) => own(choice))),
      ways: demand.ways.filter(({ units }) => units.every(({ choice }) => own(choice))),
    };
    return canMeet(problem, left, index) ? left : undefined;
  });
  return compacted(demands, problem.choices, problem.suppliers);
}

function canMeet(problem: Problem, demand: Demand, index: number): boolean {
  const own = demand.choices.flatMap((choice) => problem.choices[choice] ?? []);
  if (own.length === 0 || demand.how === 'single') return own.length > 0;
  if (demand.how === 'sum')
    return own.reduce((sum, choice) => sum + capacityFor(choice, index), 0) >= demand.need;
  if (demand.patterns === undefined) return demand.ways.length > 0;
  return own.some((choice) => longestFrom(choice, index) >= (demand.pieces[0]?.mm ?? 0));
}
