import type { Band, Choice, Demand, Problem } from '../problem/problem.ts';

const FREE: Omit<Band, 'rate'> = {
  from: 0n,
  below: undefined,
  fromMicrograms: 0,
  belowMicrograms: undefined,
  charge: 0n,
  charges: [],
};

/** A demand that is cut, alone, out of some of its choices, at what these cost without any charge. */
export function aloneProblem(
  problem: Problem,
  index: number,
  kept: readonly number[],
  changed: (choice: Choice) => Choice = (choice) => choice,
): Problem {
  const demand = problem.demands[index]!;
  const placeOf = new Map(kept.map((at, place) => [at, place]));
  const own: Demand = {
    ...demand,
    when: undefined,
    choices: kept.map((_, place) => place),
    patterns:
      demand.patterns &&
      new Map(
        [...demand.patterns].flatMap(([at, patterns]) => {
          const place = placeOf.get(at);
          return place === undefined ? [] : [[place, patterns] as const];
        }),
      ),
    ways: [],
  };
  return {
    scale: 1n,
    demands: [own],
    covers: [],
    pools: [],
    groups: [],
    choices: kept.map((at) => {
      const choice = changed(problem.choices[at]!);
      return {
        ...choice,
        serves: choice.serves
          .filter(({ demand: of }) => of === index)
          .map(({ each }) => ({ demand: 0, each })),
      };
    }),
    suppliers: problem.suppliers.map((terms) => ({ ...terms, bands: [{ ...FREE, rate: 1n }] })),
    sharedStock: [],
    atMostSuppliers: undefined,
    insistOn: [],
  };
}
