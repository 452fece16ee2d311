import type { Job } from '../model/job.ts';
import type { Ordered } from '../order.ts';
import type { Sourcing } from '../sourcing/source.ts';
import { compareFractions } from '../units/fraction.ts';
import { judged, type Compared } from './compare.ts';
import { isNotBelow, type Priced } from './priced.ts';

/** The comparison with the mix of the quote itself in place of the one that was found for its combination, where it is as cheap. */
export function withQuoted(
  job: Job,
  compared: Compared,
  { ordered, sourcing }: { ordered: Ordered; sourcing: Sourcing },
): Compared {
  const parts = ordered.bought.map(({ part }) => part).join();
  const before = compared.combinations.find(({ bought }) => bought.map(({ part }) => part).join() === parts);
  if (!before) return compared;
  const { bought } = before;
  const fixed = compared.counted.fixed(before.built);
  const found = judged(job, {
    ordered,
    sourcing,
    bought,
    fixed,
    counted: compared.counted,
    limit: undefined,
  });
  if (before.state === 'proven' && found.state !== 'proven') return compared;
  if (before.mix && found.mix && compareFractions(found.mix.total, before.mix.total) > 0) return compared;
  const after: Priced = { ...before, ...found };
  const now = (one: Priced) => (one === before ? after : one);
  const best = now(compared.best);
  const total = best.mix?.total ?? best.bound;
  const bound = compareFractions(compared.bound, total) > 0 ? total : compared.bound;
  return {
    ...compared,
    combinations: compared.combinations.map(now),
    best,
    allBuilt: now(compared.allBuilt),
    allBought: compared.allBought && now(compared.allBought),
    bound,
    proven: isNotBelow(bound, total),
  };
}
