import { hasBeside, besideOf, type Beside } from './beside/beside.ts';
import { leadsOf } from './beside/leads.ts';
import { workOneShop } from './beside/oneShop.ts';
import { Pool } from './beside/pool.ts';
import { normaliseJob } from './job/normalise.ts';
import { Cancelled, type Control } from './model/control.ts';
import type { Job } from './model/job.ts';
import type { Result } from './model/result.ts';
import { orderOf } from './order.ts';
import { comparisonsOf } from './quote/comparisons.ts';
import { writtenOf } from './quote/written.ts';
import { cheapestSinglePrices } from './sourcing/solve/greedy.ts';
import type { Solved } from './sourcing/solve/solve.ts';
import { source, type Sourcing } from './sourcing/source.ts';

/** A job's quote. */
export interface JobQuote {
  /** All but what lies beside the cheapest; where that is still to be worked, it says so. */
  result(): Result;
  /**
   * Works what lies beside the cheapest; the whole result. A quote that was not proven may come out cheaper. None where that
   * is not asked for, or nothing is bought. Throws Cancelled.
   */
  withBeside?: (control: Control) => Promise<Result>;
}

/**
 * A job in, its quote out: rolled up, bought at the least delivered cost, written out. Pointers in the result are into
 * the job as it was worked. `besideControl`: with its own time for what lies beside the cheapest. Throws Cancelled when a
 * control says so, and Stopped where the settings ask that what must be mended first be mended first.
 */
export async function priceJob(
  given: Job,
  control: Control,
  besideControl: () => Control = () => control,
): Promise<Result> {
  const quote = await quoteJob(given, control);
  return quote.withBeside ? quote.withBeside(besideControl()) : quote.result();
}

/** The same in two steps, for those who keep the quote while what lies beside it is worked. Throws as priceJob does. */
export async function quoteJob(given: Job, control: Control): Promise<JobQuote> {
  const stopIfCancelled = () => {
    if (control.cancelled()) throw new Cancelled();
  };
  stopIfCancelled();
  const job = normaliseJob(given);
  control.report({ phase: 'rollUp', message: `Rolling up ${job.looms.length} looms.` });
  const ordered = orderOf(job, control);
  const { values } = ordered;
  stopIfCancelled();
  const sourcing = await source(job, ordered.order, values, control);
  stopIfCancelled();
  const { problem, solved } = sourcing;
  if (!solved) return { result: () => writtenOf(job, ordered, { sourcing, comparisons: [] }, control) };
  const pool = new Pool(problem, leadsOf(job, problem), solved);
  const single = cheapestSinglePrices(problem);
  if (single) pool.add(single);
  await workOneShop(pool, control);
  stopIfCancelled();
  const written = (by: Control, more: { beside?: Beside; isWorking?: boolean }) => {
    const best = bestOf(sourcing, solved, pool);
    const compared = comparisonsOf(job, pool, single);
    return writtenOf(job, ordered, { sourcing: best, ...compared, isCut: pool.isCut, ...more }, by);
  };
  const { besideSeconds } = values;
  if (besideSeconds === 0 || !hasBeside(pool)) return { result: () => written(control, {}) };
  return {
    result: () => written(control, { isWorking: true }),
    withBeside: async (own) => written(own, { beside: await besideOf(pool, besideSeconds, own) }),
  };
}

/** The quote with the best mix that is known by now. */
function bestOf(sourcing: Sourcing, solved: Solved, pool: Pool): Sourcing {
  if (pool.quote().plan === solved.plan) return sourcing;
  const { mix } = pool.answer(pool.asked());
  if (!mix) return sourcing;
  const { plan, cost, bound, proven } = mix;
  const { stoppedBy } = solved;
  return sourcing.withMix({
    ...{ plan, cost, bound, proven },
    ...(proven || stoppedBy === undefined ? {} : { stoppedBy }),
    tiesSettled: false,
    ...(proven ? { tiesStopped: true as const } : {}),
  });
}
