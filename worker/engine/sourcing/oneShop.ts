import type { Control } from '../model/control.ts';
import { capacityFor, longestFrom } from './units.ts';
import { paidFor } from './pricing.ts';
import { isActive, type Plan, type Problem } from './problem.ts';
import { restricted } from './restricted.ts';
import { solveProblem } from './solve.ts';

/** What all from one shop comes to. */
export interface OneShop {
  supplier: string;
  /** Needs that the shop does not meet. */
  unsourced: number;
  /** As it is paid, minor units. */
  paid: bigint;
}

/**
 * The one shop that meets the most needs, and of those the cheapest; undefined where nobody sells anything. `plan`: what
 * was found for all of them. Throws Cancelled.
 */
export async function bestShop(problem: Problem, plan: Plan, control: Control): Promise<OneShop | undefined> {
  const codes = [...new Set(problem.suppliers.flatMap(({ code, own }) => (own ? [] : [code])))];
  const [only] = codes;
  // Where there is but one, the plan is its own.
  if (only !== undefined && codes.length === 1)
    return { supplier: only, unsourced: plan.unmet.length, paid: paidFor(problem, plan) };
  const shops = codes.map((code) => {
    const shop = shopOf(problem, code);
    return { code, shop, left: surelyLeft(shop) };
  });
  // Sorting is stable: equals keep the order of their codes.
  shops.sort((a, b) => a.left - b.left);
  const most = problem.demands.filter(({ when }) => when === undefined).length;
  let best: OneShop | undefined;
  for (const { code, shop, left } of shops) {
    // Those that follow leave at least as many.
    if ((best && left > best.unsourced) || (left === most && most > 0)) break;
    const solved = await solveProblem(shop, control, { ties: false });
    // What was not worked to its end may leave more unmet than the shop does.
    if (!solved.proven && solved.plan.unmet.length > 0) continue;
    const active = shop.demands.filter((demand) => isActive(demand, solved.plan.options)).length;
    const unsourced = solved.plan.unmet.length;
    if (unsourced === active) continue;
    const paid = paidFor(shop, solved.plan);
    const isBetter =
      !best || unsourced < best.unsourced || (unsourced === best.unsourced && paid < best.paid);
    if (isBetter) best = { supplier: code, unsourced, paid };
  }
  return best;
}

/** The problem with one supplier's offers alone, and the shelf; whatever else was asked of suppliers is left aside. */
function shopOf(problem: Problem, code: string): Problem {
  const shop = restricted(problem, ({ supplier }) => {
    const terms = problem.suppliers[supplier];
    return terms !== undefined && (terms.own || terms.code === code);
  });
  return { ...shop, atMostSuppliers: undefined, insistOn: [] };
}

/** Needs that the choices cannot meet whatever else is bought. */
function surelyLeft({ demands, choices }: Problem): number {
  return demands.filter((demand, index) => {
    if (demand.when !== undefined) return false;
    const own = demand.choices.flatMap((choice) => choices[choice] ?? []);
    if (own.length === 0 || demand.how === 'single') return own.length === 0;
    if (demand.how === 'sum')
      return own.reduce((sum, choice) => sum + capacityFor(choice, index), 0) < demand.need;
    return !own.some((choice) => longestFrom(choice, index) >= (demand.pieces[0]?.mm ?? 0));
  }).length;
}
