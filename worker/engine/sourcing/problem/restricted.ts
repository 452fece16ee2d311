import type { Choice, Problem } from './problem.ts';

/**
 * The same problem with some of its choices alone; what these do not serve may go unmet. Choices keep their places: those
 * left out cannot be bought.
 */
export function restricted(problem: Problem, keep: (choice: Choice, at: number) => boolean): Problem {
  const kept = problem.choices.map(keep);
  const isKept = (choice: number) => kept[choice] === true;
  const giving = <T extends { gives: readonly { choice: number }[] }>(list: readonly T[]) =>
    list.map((item) => ({ ...item, gives: item.gives.filter(({ choice }) => isKept(choice)) }));
  return {
    ...problem,
    covers: giving(problem.covers),
    pools: giving(problem.pools),
    choices: problem.choices.map((choice, at) =>
      isKept(at) ? choice : { ...choice, serves: [], tiers: [], mostUnits: 0 },
    ),
    sharedStock: problem.sharedStock.filter(({ choices }) => choices.some(isKept)),
    demands: problem.demands.map((demand) => ({
      ...demand,
      choices: demand.choices.filter(isKept),
      patterns: demand.patterns && new Map([...demand.patterns].filter(([choice]) => isKept(choice))),
      ways: demand.ways.filter(({ units }) => units.every(({ choice }) => isKept(choice))),
    })),
  };
}
