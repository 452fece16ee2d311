import { byCode } from '../../model/code.ts';
import { unitsToCover } from '../../units/decimal.ts';
import type { Exact } from '../../units/money.ts';
import { isAllowed, isInStock } from '../problem/allowed.ts';
import { costOf, leastCost, leastOrder, sharesOf, takes } from '../problem/pricing.ts';
import {
  isActive,
  type Choice,
  type Cut,
  type CutWay,
  type Requirement,
  type Plan,
  type Problem,
} from '../problem/problem.ts';
import { eachFor, lineCost, priceAt, unitsAtLeast } from '../problem/units.ts';

/**
 * Each requirement at the one offer (or way of cutting) whose own line costs least, postage not looked at. Ties: least bought,
 * then the offer's code; orders below a minimum are raised to it. What people do by hand, and what the quote is compared
 * with. Undefined where it cannot be ordered so.
 */
export function cheapestSinglePrices(problem: Problem): Plan | undefined {
  const plan = planOf(problem, () => true);
  const raised = plan && toppedUp(problem, plan);
  return raised && isAllowed(problem, raised) ? raised : undefined;
}

/**
 * A plain plan that leaves unmet what no offer meets alone: what is known where time ends before the solver has found
 * anything. Leaves all unmet where that cannot be ordered.
 */
export function partialPlan(problem: Problem): Plan {
  const shut = new Set<number>();
  // Each round shuts a supplier whose order would stay below its minimum, until the rest can be ordered.
  for (let round = 0; round <= problem.suppliers.length; round++) {
    const plan = toppedUp(
      problem,
      planLeaving(problem, ({ supplier }) => !shut.has(supplier)),
    );
    const refusing = sharesOf(problem, plan).find((share) => !takes(problem, share));
    if (refusing) shut.add(refusing.supplier);
    else return isAllowed(problem, plan) ? plan : leavingAll(problem);
  }
  return leavingAll(problem);
}

function leavingAll(problem: Problem): Plan {
  const options = firstOptions(problem);
  return {
    units: problem.choices.map(() => 0),
    cuts: problem.requirements.map(() => []),
    unmet: activeRequirements(problem, options),
    without: problem.insistOn,
    options,
  };
}

/** The cheapest of some plain plans that can be ordered: where the solver starts. Undefined where none can be. */
export function greedyPlan(problem: Problem): Plan | undefined {
  const plans = [planOf(problem, () => true)];
  const codes = new Set(problem.suppliers.flatMap(({ code, own }) => (own ? [] : [code])));
  for (const code of codes)
    plans.push(
      planOf(problem, ({ supplier }) => [code, ''].includes(problem.suppliers[supplier]?.code ?? '')),
    );
  const orderable = plans
    .flatMap((plan) => (plan ? [toppedUp(problem, plan)] : []))
    .filter((plan) => isAllowed(problem, plan));
  return orderable.reduce<Plan | undefined>(
    (best, plan) => (best && costOf(problem, best) <= costOf(problem, plan) ? best : plan),
    undefined,
  );
}

function planOf(problem: Problem, allowed: (choice: Choice) => boolean): Plan | undefined {
  const plan = planLeaving(problem, allowed);
  return plan.unmet.length === 0 && isInStock(problem, plan) ? plan : undefined;
}

/** Every requirement by itself, with the options that leave fewest unmet and cost least so. All is bought with the first order. */
function planLeaving(problem: Problem, allowed: (choice: Choice) => boolean): Plan {
  const ways = problem.requirements.map((requirement, index) =>
    cheapest(problem, requirement, index, allowed),
  );
  const options = problem.groups.flatMap((group) => {
    const ranked = group.map((option) => {
      const own = problem.requirements.flatMap(({ when }, index) =>
        when?.includes(option) ? [ways[index]] : [],
      );
      return {
        option,
        unmet: own.filter((way) => way === undefined).length,
        cost: own.reduce((sum, way) => sum + (way?.cost ?? 0n), 0n),
      };
    });
    ranked.sort((a, b) => a.unmet - b.unmet || compare(a.cost, b.cost) || a.option - b.option);
    return ranked[0] ? [ranked[0].option] : [];
  });
  const units = problem.choices.map(() => 0);
  const cuts: Cut[][] = problem.requirements.map(() => []);
  const unmet: number[] = [];
  for (const index of activeRequirements(problem, options)) {
    const way = ways[index]?.way;
    if (!way) unmet.push(index);
    for (const line of way?.units ?? []) units[line.choice] = (units[line.choice] ?? 0) + line.units;
    cuts[index] = [...(way?.cuts ?? [])];
  }
  return { units, cuts, unmet, without: [], options };
}

function activeRequirements({ requirements }: Problem, options: readonly number[]): number[] {
  return requirements.flatMap((requirement, index) => (isActive(requirement, options) ? [index] : []));
}

const firstOptions = ({ groups }: Problem) =>
  groups.flatMap(([first]) => (first === undefined ? [] : [first]));

function cheapest(
  problem: Problem,
  requirement: Requirement,
  index: number,
  allowed: (choice: Choice) => boolean,
): { way: CutWay; cost: Exact } | undefined {
  const ways = requirement.how === 'cut' ? requirement.ways : plainWays(problem, requirement, index);
  const lines = ways.flatMap((way) => {
    const chosen = way.units.map(({ choice, units }) => ({
      at: choice,
      choice: problem.choices[choice],
      units,
    }));
    if (!chosen.every(({ choice }) => choice && choice.wave <= 1 && allowed(choice))) return [];
    return [
      {
        way,
        offers: chosen.map(({ choice }) => choice?.offer ?? '').join(' '),
        cost: chosen.reduce((sum, { at, units }) => sum + leastCost(problem, at, units), 0n),
        bought: chosen.reduce(
          (sum, { choice, units }) => sum + units * (choice ? eachFor(choice, index) : 0),
          0,
        ),
      },
    ];
  });
  lines.sort((a, b) => compare(a.cost, b.cost) || a.bought - b.bought || byCode(a.offers, b.offers));
  return lines[0];
}

/** Each choice alone: at the units that meet the requirement, or at a break above where that is cheaper. */
function plainWays(problem: Problem, requirement: Requirement, index: number): CutWay[] {
  return requirement.choices.flatMap((at): CutWay[] => {
    const choice = problem.choices[at];
    const alone = choice && unitsAtLeast(choice, unitsToCover(requirement.need, eachFor(choice, index)));
    if (!choice || alone === undefined) return [];
    const units = choice.tiers.reduce(
      (best, { fromUnits }) =>
        fromUnits > alone && lineCost(choice, fromUnits) < lineCost(choice, best) ? fromUnits : best,
      alone,
    );
    const cuts = requirement.how === 'single' ? [{ choice: at, lengths: 1, pieces: requirement.pieces }] : [];
    return [{ units: [{ choice: at, units }], cuts }];
  });
}

/** Orders below a minimum are raised by more of what is bought there already, where there is enough of it. */
function toppedUp(problem: Problem, plan: Plan): Plan {
  const units = [...plan.units];
  for (const { supplier, goods } of sharesOf(problem, plan)) {
    const least = leastOrder(problem.suppliers[supplier]?.bands ?? []);
    if (goods >= least) continue;
    const at = problem.choices.findIndex(
      (choice, index) =>
        choice.supplier === supplier &&
        (units[index] ?? 0) > 0 &&
        choice.mostUnits === undefined &&
        choice.tiers.every(({ price }) => price > 0n) &&
        // Ready-made ways of cutting are bought as they are.
        choice.serves.every(({ requirement }) => problem.requirements[requirement]?.how !== 'cut'),
    );
    const choice = problem.choices[at];
    if (choice) units[at] = raised(choice, units[at] ?? 0, least - goods);
  }
  return { ...plan, units };
}

function raised(choice: Choice, units: number, missing: Exact): number {
  const wanted = lineCost(choice, units) + missing;
  // So many that they could not be counted: the order is left below its minimum.
  if (wanted / cheapestOf(choice) > MOST_UNITS) return units;
  let more = units;
  // A break lowers the price of all, so that the first guess may fall short; each round comes nearer.
  while (lineCost(choice, more) < wanted) {
    const step = priceAt(choice, more) * BigInt(choice.step);
    more += Math.max(1, Number((wanted - lineCost(choice, more)) / step)) * choice.step;
  }
  return more;
}

const MOST_UNITS = 1_000_000_000n;

function cheapestOf({ tiers }: Choice): Exact {
  return tiers.reduce((least, { price }) => (price < least ? price : least), tiers[0]?.price ?? 1n);
}

const compare = (a: bigint, b: bigint) => (a < b ? -1 : a > b ? 1 : 0);
