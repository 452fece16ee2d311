import type { Control } from '../../model/control.ts';
import { exactToSolver } from '../../units/money.ts';
import { NOTHING_LEFT } from '../aims.ts';
import { bestMix, type Mix } from '../mix.ts';
import type { Problem } from '../problem.ts';
import { restricted } from '../restricted.ts';
import { eachFor, lineCost, unitsAtLeast } from '../units.ts';
import { UNUSED } from './allowed.ts';
import type { Relaxation } from './dual.ts';
import type { Node } from './node.ts';

/**
 * The problem with what a node allows, its sellers being settled, and with the choices alone that a mix of less than the
 * limit can have there, what is bought beyond the need included.
 */
export function leafProblem(problem: Problem, relaxation: Relaxation, node: Node, limit: number): Problem {
  const { network } = relaxation;
  const bound = relaxation.at(node);
  const kept = new Set<number>();
  network.blocks.forEach((_, index) => {
    for (const choice of choicesWithin(problem, relaxation, index, limit - bound)) kept.add(choice);
  });
  const leaf = restricted(problem, (_, at) => kept.has(at));
  return {
    ...leaf,
    suppliers: problem.suppliers.map((terms, s) => {
      const state = node.allowed[s]!;
      if (state === UNUSED) return terms;
      const { bands } = network.sellers[s]!;
      // Where goods must be held below a dearer band, that band stands beside it.
      if (bands.some(({ held }, at) => held && (state & (1 << at)) !== 0)) return terms;
      const isIn = (from: bigint) =>
        bands.some(({ lower, below }, at) => {
          const value = exactToSolver(from);
          return (state & (1 << at)) !== 0 && lower <= value && value < below;
        });
      return { ...terms, bands: terms.bands.filter(({ from }) => isIn(from)) };
    }),
  };
}

/** A block's choices of which units can be bought for so much more than its cheapest plan, at a look's prices. */
function choicesWithin(problem: Problem, relaxation: Relaxation, index: number, more: number): number[] {
  const { network, slope, fixed, look } = relaxation;
  const { demand, need, single } = network.blocks[index]!;
  const limit = look.price[index]! + more;
  const links = Array.from(network.linksOfBlock[index]!).filter((link) => fixed[link] !== Infinity);
  const linkOf = new Map(links.map((link) => [network.sellerOf[link]!, link]));
  const least = single ? () => 0 : coverAt(relaxation, links, need);
  return problem.demands[demand]!.choices.filter((at) => {
    const choice = problem.choices[at];
    const link = choice && linkOf.get(choice.supplier);
    if (!choice || link === undefined) return false;
    const each = eachFor(choice, demand);
    const last = unitsAtLeast(choice, Math.ceil(need / each)) ?? choice.mostUnits ?? 0;
    const amounts = choice.tiers.map(({ fromUnits }) => fromUnits);
    for (let units = choice.tiers[0]?.fromUnits ?? 1; units <= last; units += choice.step)
      amounts.push(units);
    return amounts.some(
      (units) =>
        slope[link]! * exactToSolver(lineCost(choice, units)) + fixed[link]! + least(need - units * each) <=
        limit,
    );
  });
}

/** What so much of a need costs at the least, bought anywhere. */
function coverAt(
  { network, slope, fixed }: Relaxation,
  links: readonly number[],
  need: number,
): (amount: number) => number {
  let states = [{ gives: 0, cost: 0 }];
  for (const link of links) {
    const steps = network.steps[link]!.map(({ gives, value }) => ({
      gives,
      cost: slope[link]! * value + fixed[link]!,
    }));
    const sums = states.flatMap((state) =>
      state.gives >= need
        ? []
        : steps.map(({ gives, cost }) => ({
            gives: Math.min(need, state.gives + gives),
            cost: state.cost + cost,
          })),
    );
    states = cheapest([...states, ...sums]);
  }
  return (amount) => (amount <= 0 ? 0 : (states.find(({ gives }) => gives >= amount)?.cost ?? Infinity));
}

/** Those that give more than any that costs no more, rising. */
function cheapest(states: { gives: number; cost: number }[]): { gives: number; cost: number }[] {
  states.sort((a, b) => a.cost - b.cost || b.gives - a.gives);
  let most = -1;
  return states.filter(({ gives }) => {
    if (gives <= most) return false;
    most = gives;
    return true;
  });
}

export function solveLeaf(leaf: Problem, control: Control): Promise<Mix> {
  return bestMix(leaf, { least: 'cost', left: NOTHING_LEFT }, new Map(), control);
}
