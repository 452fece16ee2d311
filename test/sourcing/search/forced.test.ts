import { expect, test } from 'vitest';
import { Job } from '../../../worker/engine/model/job.ts';
import { NOTHING_LEFT } from '../../../worker/engine/sourcing/model/aims.ts';
import { Living } from '../../../worker/engine/sourcing/search/living.ts';
import { forcedBounds } from '../../../worker/engine/sourcing/solve/forced.ts';
import { bestMix } from '../../../worker/engine/sourcing/model/mix.ts';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { solveProblem } from '../../../worker/engine/sourcing/solve/solve.ts';
import { mustBuy } from '../../../worker/engine/winning/market.ts';
import { problemOf } from '../../bench/direct.ts';
import { shopsJob } from '../../bench/shops.ts';
import { unhurried } from '../../engine/fixtures.ts';

/** The least cost of a mix with some of the offer, by the model given straight to the solver. */
async function leastWith(problem: Problem, offer: string): Promise<bigint | undefined> {
  let least: bigint | undefined;
  for (const forced of mustBuy(problem, offer)) {
    const mix = await bestMix(forced, { least: 'cost', left: NOTHING_LEFT }, new Map(), unhurried);
    if (mix.status !== 'optimal') continue;
    const cost = costOf(problem, { units: mix.plan.units.slice(0, problem.choices.length) });
    if (least === undefined || cost < least) least = cost;
  }
  return least;
}

test('no mix with any of an offer costs less than its bound, and many bounds lie above the least cost', async () => {
  let above = 0;
  let tried = 0;
  for (const seed of [1, 2]) {
    const size = { requirements: 5, suppliers: 4, offers: 21, correlated: seed % 2 === 0 };
    const problem = problemOf(Job.parse(shopsJob({ ...size, seed })));
    const solved = await solveProblem(problem, unhurried, { ties: false });
    const living = await Living.of(problem, unhurried, true);
    const { least: bounds } = forcedBounds(problem, solved, living, unhurried);
    living?.dispose();
    for (const [at, { offer }] of problem.choices.entries()) {
      const bound = bounds[at] ?? 0n;
      const least = await leastWith(problem, offer);
      tried++;
      if (least !== undefined) expect(bound <= least).toBe(true);
      if (bound > solved.cost) above++;
    }
  }
  expect(tried).toBeGreaterThan(40);
  expect(above).toBeGreaterThan(tried / 4);
});
