import type { Control } from '../../../worker/engine/model/control.ts';
import { NOTHING_LEFT, type Left } from '../../../worker/engine/sourcing/model/aims.ts';
import { startingKnowledge } from '../../../worker/engine/sourcing/model/counted.ts';
import { bestMix } from '../../../worker/engine/sourcing/model/mix.ts';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';

/**
 * What the joint model, given to the solver as it is, finds: the least left undone, and the least cost at that. Where it
 * did not come to its end, the best that it found, and what it knows to be the least, in minor units.
 */
export type Straight =
  | { proven: true; left: Left; cost: bigint }
  | { proven: false; why: string; left: Left; best: bigint | undefined; boundMinor: number }
  | { proven: false; why: string; left: undefined };

/** As `direct` of test/bench, but where not all can be met, first for the least that goes unmet. */
export async function straight(problem: Problem, control: Control): Promise<Straight> {
  const knowledge = await startingKnowledge(problem, control);
  const costAt = async (left: Left): Promise<Straight | undefined> => {
    const mix = await bestMix(problem, { least: 'cost', left }, knowledge, control);
    if (mix.status === 'infeasible') return undefined;
    if (mix.status === 'optimal') return { proven: true, left, cost: costOf(problem, mix.plan) };
    const best = mix.plan && costOf(problem, mix.plan);
    return { proven: false, why: mix.stoppedBy, left, best, boundMinor: mix.bound };
  };
  const all = await costAt(NOTHING_LEFT);
  if (all) return all;
  const undone = await bestMix(problem, { least: 'undone' }, knowledge, control);
  if (undone.status === 'infeasible') throw new Error('even nothing cannot be bought');
  if (undone.status === 'stopped') return { proven: false, why: undone.stoppedBy, left: undefined };
  const left = { unmet: undone.plan.unmet.length, without: undone.plan.without.length };
  const found = await costAt(left);
  if (!found) throw new Error('what was found to be possible is not');
  return found;
}
