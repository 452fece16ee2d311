import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { priceJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { exactToAmount } from '../../worker/engine/units/money.ts';
import { direct, problemOf } from '../bench/direct.ts';
import { unhurried } from '../engine/fixtures.ts';
import { instance } from './whole/instances.ts';

const example = (name: string) =>
  Job.parse(
    JSON.parse(readFileSync(new URL(`../../examples/${name}/job.json`, import.meta.url), 'utf8')) as unknown,
  );

describe('the model given straight to the solver', () => {
  test.each(['three-wires', 'trailer', 'from-abroad'])(
    'costs %s what the engine does, unrounded',
    async (name) => {
      const job = example(name);
      const problem = problemOf(job);
      const { cost, proven } = await direct(problem, 60);
      expect(proven).toBe(true);
      expect(exactToAmount(cost ?? 0n, job.club.currency, problem.scale)).toBe(
        (await priceJob(job, unhurried)).proof.cost.amount,
      );
    },
  );

  test('costs random small jobs what the engine does, unrounded, where all needs can be met', async () => {
    let compared = 0;
    for (let seed = 5; seed < 600; seed += 10) {
      const job = instance(seed);
      const problem = problemOf(job);
      const { cost } = await direct(problem, 60);
      if (cost === undefined) continue;
      const result = await priceJob(job, unhurried);
      // Beside the problem stands what nobody sells: both leave it out.
      expect([seed, exactToAmount(cost, job.club.currency, problem.scale)]).toEqual([
        seed,
        result.proof.cost.amount,
      ]);
      compared += 1;
    }
    expect(compared).toBeGreaterThanOrEqual(40);
  });
});
