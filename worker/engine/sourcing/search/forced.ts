import type { Problem } from '../problem/problem.ts';
import { exactToSolver } from '../../units/money.ts';
import { lineCost, unitsAtLeast } from '../problem/units.ts';
import { bestAmount, sharedCost, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network, NetworkRequirement } from './network.ts';
import { MICROGRAMS } from './parcels.ts';
import { linkPrices, PlanTable, type Ground } from './prices.ts';
import { alternatives, amountsOf, offeredOf } from './stairs.ts';

/**
 * By choice: how much more than the bound every mix costs that buys any of it, few units or many, at the least; 0 where
 * that is not known, Infinity where its supplier may send nothing. Of choice c in link l of requirement r, with what the
 * other links give at their prices without link multipliers (`cover`),
 *
 *   min_{steps of c} (price_l(step) + cover_r(need − gives)) − min_p price_r(p)
 *
 * as all other requirements and suppliers cost no less than they do in the bound. The rest may come out of the same link, which
 * is paid for once: cover leaves link multipliers out, which makes it no greater.
 */
export function forcedMore(
  problem: Problem,
  network: Network,
  multipliers: Multipliers,
  ground: Ground,
  bound: Bound,
): Float64Array {
  const more = new Float64Array(problem.choices.length);
  const withoutLinks: Multipliers = {
    ...multipliers,
    link: multipliers.link.map((own) => new Float64Array(own.length)),
  };
  network.requirements.forEach((requirement, at) => {
    if (requirement.listed) {
      const forced = forcedIntoListed(problem, network, requirement, multipliers, ground);
      for (const [choice, cost] of forced) more[choice] = Math.max(0, cost - bound.tables[at]!.least);
      return;
    }
    const { how } = problem.requirements[at]!;
    const free = requirement.links.map((link) => linkPrices(network, withoutLinks, ground, link));
    const cover = new PlanTable(network, requirement, free);
    const { least } = bound.tables[at]!;
    for (const link of requirement.links) {
      const { supplier, shared, choices: own } = network.links[link]!;
      if (shared !== undefined) continue;
      for (const choice of own) {
        const isOwn = (network.parcels.of[supplier] ?? []).length === 0;
        if (isOwn) continue;
        const steps = stepsWith(problem, network, link, choice);
        if (steps === undefined) continue;
        const alone: Network = {
          ...network,
          links: network.links.map((one, index) => (index === link ? { ...one, steps } : one)),
        };
        const prices = linkPrices(alone, multipliers, ground, link);
        let forced = Infinity;
        if (prices)
          steps.forEach(({ gives }, step) => {
            forced = Math.min(
              forced,
              prices.costs[step]! +
                (how === 'sum' || requirement.isLoose ? cover.rest(0, cover.counted(gives)) : 0),
            );
          });
        more[choice] = Math.max(0, forced - least);
      }
    }
  });
  network.shared.forEach(({ choice, supplier }, at) => {
    const own = network.parcels.of[supplier] ?? [];
    if (own.length === 0) return;
    const costs = own.map((k) =>
      ground.open[k] === 1
        ? bestAmount(network, multipliers, at, k, ground.shared).cost -
          sharedCost(network, multipliers, ground, at, k)
        : Infinity,
    );
    more[choice] = Math.min(...costs);
  });
  return more;
}

/** All amounts of one choice; of what is cut, all that its supplier has for it. Undefined: nothing is known. */
function stepsWith(problem: Problem, network: Network, link: number, choice: number) {
  const { requirement: index, steps } = network.links[link]!;
  const { needs, unit } = network.requirements[index]!;
  const requirement = problem.requirements[index]!;
  if (requirement.how === 'cut') return steps;
  const offered = offeredOf(problem.choices, choice, index);
  if (requirement.how === 'single') return alternatives(offered, requirement.need, true, requirement.pieces);
  const need = needs.at(-1) ?? 0;
  const [one] = offered.map((each) => ({ ...each, each: each.each / unit }));
  return one && amountsOf(one, need);
}

/**
 * The least that a requirement costs whose plans are written out where some of a choice is bought: whatever buys it costs at
 * each supplier at least what one of these does, and at the choice's at least what its fewest units do.
 */
function forcedIntoListed(
  problem: Problem,
  network: Network,
  { links, listed = [] }: NetworkRequirement,
  multipliers: Multipliers,
  ground: Ground,
): Map<number, number> {
  const prices = new Map(links.map((link) => [link, linkPrices(network, multipliers, ground, link)]));
  const costOf = (plan: (typeof listed)[number], without: number) =>
    plan.reduce(
      (sum, { link, step }) => (link === without ? sum : sum + (prices.get(link)?.costs[step] ?? Infinity)),
      0,
    );
  const forced = new Map<number, number>();
  for (const link of links) {
    const { supplier, choices, steps } = network.links[link]!;
    if ((network.parcels.of[supplier] ?? []).length === 0) continue;
    for (const choice of choices) {
      const fewest = fewestOf(problem, choice);
      const atLeast = [{ gives: 1, value: 0, grams: 0, lines: [] }, ...steps].map((step) => ({
        ...step,
        value: Math.max(step.value, fewest.value),
        grams: Math.max(step.grams, fewest.grams),
        // What is scarce counts for nothing, so that it stays a bound.
        lines: [],
      }));
      const alone: Network = {
        ...network,
        links: network.links.map((one, at) => (at === link ? { ...one, steps: atLeast } : one)),
      };
      const own = linkPrices(alone, multipliers, ground, link);
      forced.set(
        choice,
        listed.reduce((least, plan) => {
          const step = plan.find((part) => part.link === link)?.step ?? -1;
          return Math.min(least, costOf(plan, link) + (own?.costs[step + 1] ?? Infinity));
        }, Infinity),
      );
    }
  }
  return forced;
}

/** The cheapest and the lightest amount of a choice that can be bought. */
function fewestOf({ choices }: Problem, at: number): { value: number; grams: number } {
  const choice = choices[at]!;
  const amounts = choice.tiers.flatMap(({ fromUnits }) => unitsAtLeast(choice, fromUnits) ?? []);
  return {
    value: Math.min(...amounts.map((units) => exactToSolver(lineCost(choice, units)))),
    grams: (choice.microgramsPerUnit * Math.min(...amounts)) / MICROGRAMS,
  };
}
