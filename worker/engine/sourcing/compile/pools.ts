import type { Choice, Cover, Demand, Pool } from '../problem/problem.ts';
import { eachFor } from '../problem/units.ts';

/** A pool of which it is not said yet what counts how much. */
export type Given = Pick<Pool, 'demands' | 'need'> & { gives: Cover['gives'] };

/** Lengths of pieces serve one demand each. */
export function piecePools(demands: readonly Demand[], choices: readonly Choice[]): Given[] {
  return demands.flatMap(({ how, need, choices: serving }, index) =>
    how === 'sum'
      ? []
      : [
          {
            demands: [index],
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
export function counted({ demands, need, gives }: Given, choices: readonly Choice[]): Pool {
  const isBought = (choice: number) => isBoughtLength(choices[choice]);
  const longest = Math.max(0, ...gives.map(({ choice, each }) => (isBought(choice) ? each : 0)));
  return {
    demands,
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
