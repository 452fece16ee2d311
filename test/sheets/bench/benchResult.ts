import { benchOf } from '../../../worker/engine/bench/bench.ts';
import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import { Bench } from '../../../worker/engine/model/bench.ts';
import type { Job } from '../../../worker/engine/model/job.ts';
import type { BenchResult } from '../../../worker/sheets/bench/words.ts';
import { unhurried } from '../../engine/fixtures.ts';

/** What the sheets for the bench need of a job's result, without anything being bought. */
export function benchResult(job: Job): BenchResult {
  const { context, requirements } = rollUp(normaliseJob(job), unhurried);
  return { bench: Bench.parse(benchOf(context, requirements)), requirements, looms: [], cautions: [] };
}
