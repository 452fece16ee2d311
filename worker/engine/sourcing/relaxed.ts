import type { Demand, Problem } from './problem.ts';

/** Whether some demand is met only by ready-made ways of cutting, so that cheaper ways may not have been looked at. */
export function hasWays(problem: Problem): boolean {
  return problem.demands.some(isByWays);
}

function isByWays(demand: Demand): boolean {
  return demand.how === 'cut' && demand.patterns === undefined;
}

/** The same with those demands met by metres alone, however they are cut: no plan of the problem costs less than its. */
export function relaxed(problem: Problem): Problem {
  return {
    ...problem,
    demands: problem.demands.map((demand): Demand =>
      isByWays(demand) ? { ...demand, how: 'sum', pieces: [], oneSupplier: false, ways: [] } : demand,
    ),
  };
}
