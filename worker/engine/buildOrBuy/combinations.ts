import { LIMITS } from '../model/limits.ts';
import type { MadeUpLoom } from './madeUpLooms.ts';

/** The made-up looms that are bought; every loom that none of them is for is built. */
export type Bought = readonly MadeUpLoom[];

/** Whether no loom is replaced twice. */
export function goTogether(bought: Bought, one: MadeUpLoom): boolean {
  return !bought.some(({ looms }) => looms.some((name) => one.looms.includes(name)));
}

/** All combinations, the fewest bought first, or undefined where there are more than so many. */
export function combinationsOf(usable: Bought, most: number): Bought[] | undefined {
  const found: Bought[] = [];
  const add = (bought: Bought, from: number): boolean => {
    if (found.length === most) return false;
    found.push(bought);
    return usable.every((one, at) => at < from || !goTogether(bought, one) || add([...bought, one], at + 1));
  };
  if (!add([], 0)) return undefined;
  return found.sort((a, b) => a.length - b.length);
}

/** The combinations that leave no loom of these to be built: so many at the most. */
export function allBought(usable: Bought, names: readonly string[], most: number): Bought[] {
  const found: Bought[] = [];
  const add = (bought: Bought, left: readonly string[]): void => {
    const [next] = left;
    if (found.length === most) return;
    if (next === undefined) return void found.push(bought);
    for (const one of usable)
      if (one.looms.includes(next) && goTogether(bought, one))
        add(
          [...bought, one],
          left.filter((name) => !one.looms.includes(name)),
        );
  };
  add([], names);
  return found;
}

/** How many combinations there are, as far as they are counted: looms that share no made-up loom are chosen apart. */
export function countCombinations(usable: Bought): number {
  let groups: MadeUpLoom[][] = [];
  for (const one of usable) {
    const touching = groups.filter((group) => !goTogether(group, one));
    groups = [...groups.filter((group) => !touching.includes(group)), [...touching.flat(), one]];
  }
  const counts = groups.map(
    (group) => combinationsOf(group, LIMITS.combinations)?.length ?? LIMITS.combinations,
  );
  return Math.min(
    counts.reduce((product, count) => product * count, 1),
    LIMITS.count,
  );
}
