import { priceJob } from '../../../worker/engine/engine.ts';
import type { Job } from '../../../worker/engine/model/job.ts';
import type { Result } from '../../../worker/engine/model/result.ts';
import { cheapest, type Outcome } from './cheapest.ts';
import { instance } from './instances.ts';
import { judgeOf, onSale, type Bought } from './judge.ts';
import { compare, ends, fromDecimal, plus, ratio, type Ratio } from './ratio.ts';

/** A job as the engine priced it, beside the least cost of all purchases. */
export interface Judged {
  seed: number;
  job: Job;
  result: Result;
  best: Outcome;
}

export async function judged(seed: number, job = instance(seed)): Promise<Judged> {
  const result = await priceJob(job, {
    remainingMs: () => 60_000,
    cancelled: () => false,
    report: () => undefined,
  });
  return { seed, job, result, best: cheapest(job) };
}

/** Where decimals do not end, an amount is printed to so many of them. */
const NEAR = ratio(1n, 10n ** 20n);

/** Whether a printed amount is this cost: exactly, where its decimals end; else so nearly that only printing is between. */
function isCost(amount: string, cost: Ratio): boolean {
  const found = fromDecimal(amount);
  if (ends(cost)) return compare(found, cost) === 0;
  return compare(found, plus(cost, NEAR)) < 0 && compare(cost, plus(found, NEAR)) < 0;
}

/** Whether the engine leaves as few requirements unmet, at the same cost, as trying every purchase does. */
export function isEqual({ result, best }: Judged): boolean {
  return result.unsourced.length === best.unmet && isCost(result.proof.cost.amount, best.cost);
}

/** Whether it is proven: to a bound that is not above the least cost, nor half a minor unit or more below it. */
export function isProven({ result: { proof }, best, job }: Judged): boolean {
  const half = ratio(1n, { JPY: 2n, KWD: 2000n }[job.club.currency] ?? 200n);
  const bound = fromDecimal(proof.bound.amount);
  return (
    proof.status !== 'bestSoFar' &&
    compare(bound, plus(best.cost, NEAR)) < 0 &&
    compare(best.cost, plus(bound, half)) <= 0
  );
}

/** What is wrong with what the engine buys, as the judge of this folder has it; undefined: nothing. */
export function faultOf({ job, result, best }: Judged): string | undefined {
  const bought = result.purchases.map((purchase) => boughtBy(job, purchase));
  const unsold = bought.find(({ offer, count }) => !onSale(offer, 400).includes(count));
  if (unsold) return `${unsold.count} of ${unsold.offer.code} are not on sale`;
  const outcome = judgeOf(job)(bought);
  if (!outcome) return 'it may not be bought so';
  const { missing, unmet, cost } = outcome;
  if (missing !== best.missing)
    return `nothing comes from ${missing} of those insisted on, not ${best.missing}`;
  if (unmet !== best.unmet) return `it leaves ${unmet} needs unmet, not ${best.unmet}`;
  return isCost(result.proof.cost.amount, cost) ? undefined : 'it does not cost what the proof says';
}

function boughtBy(job: Job, { offer: code, bought, wave = 1 }: Result['purchases'][number]): Bought {
  const offer = job.offers.find((candidate) => candidate.code === code);
  if (offer?.form !== bought.form) throw new Error(`${code} is bought in a form in which it is not sold`);
  return { offer, wave, count: bought.form === 'metre' ? bought.lengthMm : bought.packs };
}
