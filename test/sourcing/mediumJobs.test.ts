import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { slowJob } from '../support/slowJob.ts';

/** The same job with codes whose byte order runs the other way, so that the solver meets everything turned round. */
function turnedRound(job: unknown): unknown {
  const renamed = JSON.stringify(job).replace(
    /(part|shop)-(\d+)/g,
    (_, word: string, number: string) => `${word}-${1000 - Number(number)}`,
  );
  return JSON.parse(renamed);
}

const proofOf = async (job: unknown) => {
  const { proof } = await priceJob(Job.parse(job), {
    remainingMs: () => 120_000,
    cancelled: () => false,
    report: () => undefined,
  });
  return { status: proof.status, cost: proof.cost.amount };
};

// Too large to try every mix; but a proven least cost depends on no order, so two orders must prove the same.
describe('jobs of some dozens of parts and offers by the hundred', () => {
  test.each([
    { parts: 30, suppliers: 8, seed: 107 },
    { parts: 30, suppliers: 8, seed: 108 },
    { parts: 24, suppliers: 6, seed: 3 },
    { parts: 16, suppliers: 6, seed: 5 },
    { parts: 16, suppliers: 6, seed: 6 },
  ])('$parts parts, $suppliers suppliers, seed $seed: two orders prove one cost', async (size) => {
    const job = slowJob(size);
    const [one, other] = [await proofOf(job), await proofOf(turnedRound(job))];
    expect(one.status).toBe('proven');
    expect(other).toEqual(one);
  });
});
