import type { Left } from '../../../worker/engine/sourcing/model/aims.ts';
import type { Solved } from '../../../worker/engine/sourcing/solve/solve.ts';
import { exactToSolver, type Scale } from '../../../worker/engine/units/money.ts';
import type { Straight } from './straight.ts';

/**
 * same: both proven, as little left undone, at the same unrounded cost. open: the model straight did not come to its end,
 * and what it knows does not speak against the engine. apart: anything else.
 */
export type Verdict = 'same' | 'open' | 'apart';

type Answer = Pick<Solved, 'plan' | 'cost' | 'proven'>;

/** What the solver’s bound may be off by, in minor units. */
const NOISE = 0.001;

export function verdictOf(engine: Answer, direct: Straight, scale: Scale): Verdict {
  const { cost, proven } = engine;
  if (direct.left === undefined) return 'open';
  const same = isAsLittle(leftBy(engine), direct.left);
  if (direct.proven) return proven && same && cost === direct.cost ? 'same' : 'apart';
  if (!proven) return 'open';
  const below = exactToSolver(cost, scale) < direct.boundMinor - NOISE;
  const above = direct.best !== undefined && cost > direct.best;
  return !same || below || above ? 'apart' : 'open';
}

export const leftBy = ({ plan }: Pick<Solved, 'plan'>): Left => ({
  unmet: plan.unmet.length,
  without: plan.without.length,
});
const isAsLittle = (a: Left, b: Left) => a.unmet === b.unmet && a.without === b.without;
