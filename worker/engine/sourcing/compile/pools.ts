import type { Choice, Cover, Requirement, Pool } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/** A pool of which it is not said yet what counts how much. */
export type Given = Pick<Pool, 'requirements' | 'need'> & { gives: Cover['gives'] };

/** Lengths of pieces serve one requirement each. */
export function piecePools(requirements: readonly Requirement[], choices: readonly Choice[]): Given[] {
  return requirements.flatMap(({ how, need, choices: serving }, index) =>
    how === 'sum'
      ? []
      : [
          {
            requirements: [index],
            need,
            gives: serving.map((choice) => {
              const chosen = choices[choice];
              return { choice, each: chosen ? eachFor(chosen, index) : 0 };
            }),
          },
        ],
  );
}

/**
 * Says what each unit counts. A bought length counts as the longest on offer, but no more than the need: so fewer lengths
 * count less than more of them, and one length as little as what is bought by the metre in its place.
 */
export function counted({ requirements, need, gives }: Given, choices: readonly Choice[]): Pool {
  const isBought = (choice: number) => isBoughtLength(choices[choice]);
  const longest = Math.max(0, ...gives.map(({ choice, each }) => (isBought(choice) ? each : 0)));
  return {
    requirements,
    need,
    gives: gives.map((give) => ({
      ...give,
      counts: isBought(give.choice) ? Math.min(longest, need) : give.each,
    })),
  };
}

function isBoughtLength(choice: Choice | undefined): boolean {
  return choice?.form === 'length' && choice.wave > 0;
}
