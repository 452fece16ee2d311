import { sharesOf } from './pricing.ts';
import type { Choice, Cover, Requirement, Plan, Problem } from './problem.ts';

/** What is bought already, by supplier and order: each share is one choice, which must be bought, of one requirement. */
export interface Bought {
  /** The share's choice, but for what it serves. */
  choices: readonly Omit<Choice, 'serves'>[];
  /** What each share gives in all where a unit of each choice gives so much. */
  given: (eachOf: (choice: Choice, at: number) => number) => number[];
}

export function boughtOf(
  problem: Pick<Problem, 'choices' | 'suppliers'>,
  units: Plan['units'] | undefined,
): Bought {
  if (!units) return { choices: [], given: () => [] };
  const shares = sharesOf(problem, { units });
  return {
    choices: shares.map(({ supplier, goods, micrograms }) => ({
      offer: '',
      supplier,
      wave: problem.suppliers[supplier]?.wave ?? 0,
      form: 'pack',
      tiers: [{ fromUnits: 1, price: goods }],
      step: 1,
      mostUnits: 1,
      microgramsPerUnit: micrograms,
      piecesPerUnit: 1,
    })),
    given: (eachOf) =>
      shares.map(({ supplier }) =>
        problem.choices.reduce((sum, choice, at) => {
          const count = choice.supplier === supplier ? (units[at] ?? 0) : 0;
          return count === 0 ? sum : sum + count * eachOf(choice, at);
        }, 0),
      ),
  };
}

/** That a share is bought. */
export function mustStay(choice: number): Requirement {
  return {
    id: '',
    need: 1,
    how: 'sum',
    pieces: [],
    oneSupplier: false,
    when: undefined,
    choices: [choice],
    patterns: undefined,
    ways: [],
  };
}

export function coverOfStaying(requirement: number, choice: number): Cover {
  return { members: [{ requirement, need: 1, when: undefined }], gives: [{ choice, each: 1 }] };
}
