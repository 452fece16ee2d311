import { priceJob } from '../../worker/engine/engine.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import type { Control } from '../../worker/engine/model/control.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { orderOf } from '../../worker/engine/order.ts';
import { NOTHING_LEFT } from '../../worker/engine/sourcing/model/aims.ts';
import { compile } from '../../worker/engine/sourcing/compile/compile.ts';
import { startingKnowledge } from '../../worker/engine/sourcing/model/counted.ts';
import { bestMix } from '../../worker/engine/sourcing/model/mix.ts';
import { costOf } from '../../worker/engine/sourcing/problem/pricing.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';

/** The delivered cost of the cheapest mix, unrounded, in the problem's scale, and how long it took. */
export interface Direct {
  /** Undefined where the time ended first, or where not all needs can be met. */
  cost: bigint | undefined;
  proven: boolean;
  seconds: number;
}

/** A job as the problem that is solved. */
export function problemOf(job: Job): Problem {
  const normal = normaliseJob(job);
  const control: Control = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };
  const { order, values } = orderOf(normal, control);
  return compile(normal, order, values).problem;
}

/**
 * The yardstick: the joint model as one whole-number programme, given straight to the solver with nothing to start from,
 * its bounds as tight as the engine knows them, presolve on.
 */
export async function direct(problem: Problem, seconds: number): Promise<Direct> {
  const start = performance.now();
  const control: Control = {
    remainingMs: () => Math.max(0, seconds * 1000 - (performance.now() - start)),
    cancelled: () => false,
    report: () => undefined,
  };
  const knowledge = await startingKnowledge(problem, control);
  const mix = await bestMix(problem, { least: 'cost', left: NOTHING_LEFT }, knowledge, control);
  const took = (performance.now() - start) / 1000;
  const plan = mix.status === 'infeasible' ? undefined : mix.plan;
  return {
    cost: plan && costOf(problem, plan),
    proven: mix.status === 'optimal',
    seconds: took,
  };
}

/** The engine on the same job: its unrounded cost as it is printed, and how long the whole quote took. */
export async function engine(job: Job, seconds: number) {
  const start = performance.now();
  const result = await priceJob(job, {
    remainingMs: () => Math.max(0, seconds * 1000 - (performance.now() - start)),
    cancelled: () => false,
    report: () => undefined,
  });
  return { proof: result.proof, seconds: (performance.now() - start) / 1000 };
}
