import type { Job } from '../../worker/engine/model/job.ts';
import { judged, type Judged } from '../sourcing/middling/judged.ts';
import type { Verdict } from '../sourcing/middling/verdict.ts';

/** How a set of jobs came out. */
export interface AgreementProof {
  set: string;
  instances: number;
  same: number;
  /** The model given straight to the solver did not come to its end. */
  open: number;
  /** Something is left undone, as little by both. */
  undone: number;
  /** Median and slowest. */
  engineSeconds: [number, number];
  straightSeconds: [number, number];
}

interface Jobs {
  set: string;
  /** What the jobs are made from. */
  seeds: readonly number[];
  make: (seed: number) => Job;
}

/** The engine against the model given straight to the solver. Prints each job in which they differ. */
export async function agreementProof(
  { set, seeds, make }: Jobs,
  limitSeconds: number,
): Promise<AgreementProof> {
  const found: Judged[] = [];
  for (const seed of seeds) {
    const one = await judged(make(seed), limitSeconds);
    found.push(one);
    if (one.verdict === 'apart') console.log(`${set} ${seed}: ${one.words}`);
  }
  const count = (verdict: Verdict) => found.filter((one) => one.verdict === verdict).length;
  return {
    set,
    instances: seeds.length,
    same: count('same'),
    open: count('open'),
    undone: found.filter((one) => one.verdict === 'same' && one.undone > 0).length,
    engineSeconds: middleAndLast(found.map((one) => one.engineSeconds)),
    straightSeconds: middleAndLast(found.map((one) => one.straightSeconds)),
  };
}

function middleAndLast(values: readonly number[]): [number, number] {
  const sorted = [...values].sort((a, b) => a - b);
  return [sorted[sorted.length >> 1] ?? 0, sorted.at(-1) ?? 0];
}
