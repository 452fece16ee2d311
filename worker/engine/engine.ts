import { hasBeside, besideOf, type Beside } from './beside/beside.ts';
import { leadsOf } from './beside/leads.ts';
import { workOneShop } from './beside/oneShop.ts';
import { Pool } from './beside/pool.ts';
import { compareLooms, type Compared } from './buildOrBuy/compare.ts';
import { withQuoted } from './buildOrBuy/withQuoted.ts';
import { normaliseJob } from './job/normalise.ts';
import { Cancelled, type Control } from './model/control.ts';
import type { Job } from './model/job.ts';
import type { Result } from './model/result.ts';
import { orderOf, orderWith } from './order.ts';
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
  /**
   * Works the comparison of building with buying made, after what lies beside; the whole result. None where that is not asked
   * for, or is what the quote comes from. Throws Cancelled.
   */
  withBuildOrBuy?: (control: Control) => Promise<Result>;
}

/** Controls with a time of their own, from when they are asked for. */
export interface Controls {
  /** For what lies beside the cheapest. */
  beside: () => Control;
  buildOrBuy: () => Control;
  /** For the quote, where that is worked after the comparison that it comes from. */
  quote: () => Control;
}

/**
 * A job in, its quote out: rolled up, bought at the least delivered cost, written out. Pointers in the result are into
 * the job as it was worked. `controls`: with times of their own for what follows the quote. Throws Cancelled when a
 * control says so, and Stopped where the settings ask that what must be mended first be mended first.
 */
export async function priceJob(
  given: Job,
  control: Control,
  controls: Partial<Controls> = {},
): Promise<Result> {
  const quote = await quoteJob(given, control, controls);
  let result: Result | undefined;
  if (quote.withBeside) result = await quote.withBeside((controls.beside ?? (() => control))());
  if (quote.withBuildOrBuy) result = await quote.withBuildOrBuy((controls.buildOrBuy ?? (() => control))());
  return result ?? quote.result();
}

/**
 * The same in steps, for those who keep the quote while what lies beside it is worked. Where the quote is to be for the
 * cheapest combination of built and bought looms, that is found first. Throws as priceJob does.
 */
export async function quoteJob(
  given: Job,
  first: Control,
  { buildOrBuy = () => first, quote: again = () => first }: Partial<Controls> = {},
): Promise<JobQuote> {
  let control = first;
  const stopIfCancelled = () => {
    if (control.cancelled()) throw new Cancelled();
  };
  stopIfCancelled();
  const job = normaliseJob(given);
  control.report({ phase: 'rollUp', message: `Rolling up ${job.looms.length} looms.` });
  let ordered = orderOf(job, control);
  const { values } = ordered;
  stopIfCancelled();
  const asked = job.request.buildOrBuy;
  let compared: Compared | undefined;
  let isComparing = asked !== undefined;
  if (asked?.order === 'cheapest') {
    compared = await compareLooms(job, buildOrBuy());
    isComparing = false;
    stopIfCancelled();
    control = again();
    if (compared.best.bought.length > 0) ordered = orderWith(job, control, compared.best.bought);
  }
  const start = compared?.best.mix?.sourcing.plan;
  const sourcing = await source(job, ordered.order, values, control, start ? { start } : {});
  stopIfCancelled();
  const { problem, solved } = sourcing;
  const comparedWith = (quoted: Sourcing) => {
    const known = compared && withQuoted(job, compared, { ordered, sourcing: quoted });
    return { ...(known ? { compared: known } : {}), ...(isComparing ? { isComparing } : {}) };
  };
  /** After the quote, where the comparison is not what it comes from. */
  const andCompare = (quoted: () => Sourcing, write: (by: Control) => Result): Partial<JobQuote> =>
    asked && !compared
      ? {
          withBuildOrBuy: async (own) => {
            compared = await compareLooms(job, own, { ordered, sourcing: quoted() });
            isComparing = false;
            return write(own);
          },
        }
      : {};
  if (!solved) {
    const write = (by: Control) =>
      writtenOf(job, ordered, { sourcing, comparisons: [], ...comparedWith(sourcing) }, by);
    return { result: () => write(control), ...andCompare(() => sourcing, write) };
  }
  const pool = new Pool(problem, leadsOf(job, problem), solved);
  const single = cheapestSinglePrices(problem);
  if (single) pool.add(single);
  await workOneShop(pool, control);
  stopIfCancelled();
  const written = (by: Control, more: { beside?: Beside | undefined; isWorking?: boolean }) => {
    const best = bestOf(sourcing, solved, pool);
    const others = comparisonsOf(job, pool, single);
    return writtenOf(
      job,
      ordered,
      { sourcing: best, ...others, isCut: pool.isCut, ...comparedWith(best), ...more },
      by,
    );
  };
  const { besideSeconds } = values;
  let beside: Beside | undefined;
  const compare = andCompare(
    () => bestOf(sourcing, solved, pool),
    (by) => written(by, { beside }),
  );
  if (besideSeconds === 0 || !hasBeside(pool)) return { result: () => written(control, {}), ...compare };
  return {
    result: () => written(control, { isWorking: true }),
    withBeside: async (own) => {
      beside = await besideOf(pool, besideSeconds, own);
      return written(own, { beside });
    },
    ...compare,
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
