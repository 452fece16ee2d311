import { priceJob } from '../../worker/engine/engine.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { orderOf } from '../../worker/engine/order.ts';
import { NOTHING_LEFT } from '../../worker/engine/sourcing/model/aims.ts';
import { compile } from '../../worker/engine/sourcing/compile/compile.ts';
import { startingKnowledge } from '../../worker/engine/sourcing/model/counted.ts';
import { bestMix } from '../../worker/engine/sourcing/model/mix.ts';
import { costOf } from '../../worker/engine/sourcing/problem/pricing.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { stopwatch, type Taken } from './stopwatch.ts';
import { untilSeconds } from './untilSeconds.ts';

/** The delivered cost of the cheapest mix, unrounded, in the problem's scale, and what it took. */
export interface Direct extends Taken {
  /** Undefined where the time ended first, or where not all requirements can be met. */
  cost: bigint | undefined;
  proven: boolean;
}

/** A job as the problem that is solved. */
export function problemOf(job: Job): Problem {
  const normal = normaliseJob(job);
  const { order, values } = orderOf(normal, untilSeconds(Infinity));
  return compile(normal, order, values).problem;
}

/**
 * The yardstick: the joint model as one whole-number programme, given straight to the solver with nothing to start from,
 * its bounds as tight as the engine knows them, presolve on.
 */
export async function direct(problem: Problem, seconds: number): Promise<Direct> {
  const taken = stopwatch();
  const control = untilSeconds(seconds);
  const knowledge = await startingKnowledge(problem, control);
  const mix = await bestMix(problem, { least: 'cost', left: NOTHING_LEFT }, knowledge, control);
  const took = taken();
  const plan = mix.status === 'infeasible' ? undefined : mix.plan;
  return { cost: plan && costOf(problem, plan), proven: mix.status === 'optimal', ...took };
}

/** The engine on the same job: its result, and what the whole quote took; what lies beside it has so many seconds of its own. */
export async function engine(job: Job, seconds: number) {
  const taken = stopwatch();
  const result = await priceJob(job, untilSeconds(seconds), {
    beside: () => untilSeconds(seconds),
  });
  return { result, ...taken() };
}
