import { expect, test } from 'vitest';
import { Job } from '../../worker/engine/model/job.ts';
import { startingKnowledge } from '../../worker/engine/sourcing/model/counted.ts';
import { problemOf } from '../bench/direct.ts';
import { benchJob } from '../bench/instances.ts';

/** The looks at a clock of so many that each take one, until all is known that is to be known. */
async function looksOf(clock: number): Promise<number> {
  const problem = problemOf(Job.parse(benchJob({ family: 'cutting', variant: 'plain', seed: 1 })));
  let looks = 0;
  await startingKnowledge(problem, {
    remainingMs: () => Math.max(0, clock - looks++),
    cancelled: () => false,
    report: () => undefined,
  });
  return looks;
}

test('what is said of 1,000 pieces before they are solved leaves three quarters of the time to the solver', async () => {
  const clock = 24;
  // Left alone it would take more.
  expect(await looksOf(Infinity)).toBeGreaterThan(clock / 2);
  expect(await looksOf(clock)).toBeLessThanOrEqual(clock / 4 + 2);
});
