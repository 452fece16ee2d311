import { priceJob } from '../../worker/engine/engine.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { bruteForceCost } from './bruteForce.ts';
import { MINOR, fromProof } from './exactMoney.ts';

/** A job as the engine priced it, beside the least cost of all mixes. */
export interface Judged {
  seed: number;
  job: Job;
  result: Result;
  best: bigint;
}

export async function judged(seed: number, job: Job): Promise<Judged> {
  const result = await priceJob(job, {
    remainingMs: () => 60_000,
    cancelled: () => false,
    report: () => undefined,
  });
  return { seed, job, result, best: bruteForceCost(job) };
}

/** Those that cost something else than the cheapest mix. */
export function apart(cases: readonly Judged[]): { seed: number; best: bigint; found: bigint }[] {
  return cases
    .map(({ seed, result, best }) => ({ seed, best, found: fromProof(result.proof.cost) }))
    .filter(({ best, found }) => best !== found);
}

/** Those whose proof is not closed, or is false: a bound above the cheapest mix, or further below than half a minor unit. */
export function badlyProven(cases: readonly Judged[]): { seed: number; proof: Result['proof'] }[] {
  return cases
    .filter(({ result: { proof }, best }) => {
      const bound = fromProof(proof.bound);
      return proof.status === 'bestSoFar' || bound > best || best - bound > BigInt(MINOR / 2);
    })
    .map(({ seed, result }) => ({ seed, proof: result.proof }));
}
