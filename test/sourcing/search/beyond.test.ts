import { expect, test } from 'vitest';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import { greedyPlan } from '../../../worker/engine/sourcing/solve/greedy.ts';
import { solveProblem } from '../../../worker/engine/sourcing/solve/solve.ts';
import { problemOf } from '../../bench/direct.ts';
import { unhurried } from '../../engine/fixtures.ts';
import { instance } from '../whole/instances.ts';

test('what a search has found before it met numbers beyond the solver is kept', async () => {
  let tried = 0;
  for (let seed = 1; seed <= 12; seed++) {
    const problem = problemOf(instance(seed));
    const { plan, cost, proven } = await solveProblem(problem, unhurried);
    const plain = greedyPlan(problem);
    const isBetter = plain && cost < costOf(problem, plain);
    if (!proven || plan.unmet.length > 0 || plan.without.length > 0 || !isBetter) continue;
    tried++;
    const by = () => Promise.resolve({ plan, bound: 0, ended: false, isBeyond: true as const });
    const found = await solveProblem(problem, { ...unhurried, remainingMs: () => 0 }, { by });
    expect([seed, found.cost, found.proven]).toEqual([seed, cost, false]);
  }
  expect(tried).toBeGreaterThan(1);
});
