import type { Problem } from '../problem/problem.ts';
import { bestAmount, type Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
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
      ground.open[k] === 1 ? Math.max(0, bestAmount(network, multipliers, at, k).cost) : Infinity,
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
