import { exactToSolver } from '../../units/money.ts';
import type { Problem } from '../problem/problem.ts';
import { eachFor, lineCost, unitsAtLeast } from '../problem/units.ts';
import type { Relaxation } from './dual.ts';
import { rising } from './rising.ts';

/**
 * What a block's choices cost more, at the prices of the last look, than its cheapest plan, where any units of them are
 * bought, few or many: at the least. Those of shut sellers are left out.
 */
export function choicesAt(
  problem: Problem,
  relaxation: Relaxation,
  index: number,
): { choice: number; more: number }[] {
  const { network, slope, fixed, look } = relaxation;
  const { demand, need, single } = network.blocks[index]!;
  const links = Array.from(network.linksOfBlock[index]!).filter((link) => fixed[link] !== Infinity);
  const linkOf = new Map(links.map((link) => [network.sellerOf[link]!, link]));
  const least = single ? () => 0 : coverAt(relaxation, links, need);
  return problem.demands[demand]!.choices.flatMap((at) => {
    const choice = problem.choices[at];
    const link = choice && linkOf.get(choice.supplier);
    if (!choice || link === undefined) return [];
    const each = eachFor(choice, demand);
    const last = unitsAtLeast(choice, Math.ceil(need / each)) ?? choice.mostUnits ?? 0;
    const amounts = choice.tiers.map(({ fromUnits }) => fromUnits);
    for (let units = choice.tiers[0]?.fromUnits ?? 1; units <= last; units += choice.step)
      amounts.push(units);
    const most = relaxation.isSettled(choice.supplier) ? Infinity : network.most[link]!;
    const costs = amounts.map((units) => {
      // What goes beyond the most that a link is priced for may count for nothing.
      const value = Math.min(most, exactToSolver(lineCost(choice, units)));
      return slope[link]! * value + fixed[link]! + least(need - units * each);
    });
    return [{ choice: at, more: Math.min(...costs) - look.price[index]! }];
  });
}

/** What so much of a need costs at the least, bought anywhere, without what is paid for using a link at all. */
function coverAt(
  { network, slope }: Relaxation,
  links: readonly number[],
  need: number,
): (amount: number) => number {
  let states = [{ gives: 0, cost: 0 }];
  for (const link of links) {
    const steps = network.steps[link]!.map(({ gives, value }) => ({ gives, cost: slope[link]! * value }));
    const sums = states.flatMap((state) =>
      state.gives >= need
        ? []
        : steps.map(({ gives, cost }) => ({
            gives: Math.min(need, state.gives + gives),
            cost: state.cost + cost,
          })),
    );
    states = rising([...states, ...sums], ({ cost }) => cost);
  }
  return (amount) => (amount <= 0 ? 0 : (states.find(({ gives }) => gives >= amount)?.cost ?? Infinity));
}
