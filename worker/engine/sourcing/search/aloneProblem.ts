import type { Band, Requirement, Problem } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

const FREE: Omit<Band, 'rate'> = {
  from: 0n,
  below: undefined,
  fromMicrograms: 0,
  belowMicrograms: undefined,
  charge: 0n,
  charges: [],
};

/**
 * A requirement that is cut, alone, out of some of its choices, at what these cost without any charge. Made anew and not by
 * `changed`, which goes through all of a problem: there is one for each colour and supplier.
 */
export function aloneProblem(problem: Problem, index: number, kept: readonly number[]): Problem {
  const requirement = problem.requirements[index]!;
  const placeOf = new Map(kept.map((at, place) => [at, place]));
  const own: Requirement = {
    ...requirement,
    when: undefined,
    choices: kept.map((_, place) => place),
    patterns:
      requirement.patterns &&
      new Map(
        [...requirement.patterns].flatMap(([at, patterns]) => {
          const place = placeOf.get(at);
          return place === undefined ? [] : [[place, patterns] as const];
        }),
      ),
    ways: [],
  };
  return {
    scale: 1n,
    requirements: [own],
    covers: [],
    pools: [],
    groups: [],
    choices: kept.map((at) => ({
      ...problem.choices[at]!,
      serves: [{ requirement: 0, each: eachFor(problem.choices[at]!, index) }],
    })),
    suppliers: problem.suppliers.map((terms) => ({ ...terms, bands: [{ ...FREE, rate: 1n }] })),
    sharedStock: [],
    atMostSuppliers: undefined,
    insistOn: [],
  };
}
