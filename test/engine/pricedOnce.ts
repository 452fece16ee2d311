import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { priced } from './fixtures.ts';

/**
 * For a file of properties of the same random jobs: how many jobs and from which seed, another at every run, and their
 * results, each worked once for all properties.
 */
export function sharedJobs(numRuns: number) {
  const results = new Map<string, Promise<Result>>();
  const pricedOnce = (job: Job): Promise<Result> => {
    const key = canonicalJson(job);
    const result = results.get(key) ?? priced(job);
    results.set(key, result);
    return result;
  };
  return { runs: { numRuns, seed: Math.floor(Math.random() * 2 ** 31) }, pricedOnce };
}
