import { expect, test } from 'vitest';
import { startingKnowledge } from '../../../worker/engine/sourcing/model/counted.ts';
import { NOTHING_LEFT } from '../../../worker/engine/sourcing/model/aims.ts';
import { bestMix } from '../../../worker/engine/sourcing/model/mix.ts';
import { changed } from '../../../worker/engine/sourcing/problem/changed.ts';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import type { FallLine } from '../../../worker/engine/sourcing/search/fallen.ts';
import { Living } from '../../../worker/engine/sourcing/search/living.ts';
import { exactToSolver } from '../../../worker/engine/units/money.ts';
import { mustBuy } from '../../../worker/engine/winning/market.ts';
import { problemOf } from '../../bench/direct.ts';
import { unhurried } from '../../engine/fixtures.ts';
import { randomFrom } from '../random.ts';
import { instance } from '../whole/instances.ts';
import { cheapestOf } from './network.ts';

/** Minor units. */
const NOISE = 1e-3;

/** The problem with the prices of a choice lower by so many thousandths. */
function fallen(problem: Problem, choice: number, thousandths: number): Problem {
  const left = BigInt(1000 - thousandths);
  return changed(problem, {
    tiers: ({ tiers }, at) =>
      at === choice
        ? tiers.map(({ fromUnits, price }) => ({ fromUnits, price: (price * left + 999n) / 1000n }))
        : tiers,
  });
}

/** The least cost of a mix with some of the offer, by the model given straight to the solver, minor units; Infinity: there is none. */
async function leastWith(problem: Problem, offer: string): Promise<number | undefined> {
  let least = Infinity;
  for (const forced of mustBuy(problem, offer)) {
    const knowledge = await startingKnowledge(forced, unhurried);
    const mix = await bestMix(forced, { least: 'cost', left: NOTHING_LEFT }, knowledge, unhurried);
    if (mix.status === 'infeasible') continue;
    if (mix.status !== 'optimal') return undefined;
    const cost = costOf(problem, { units: mix.plan.units.slice(0, problem.choices.length) });
    least = Math.min(least, exactToSolver(cost, problem.scale));
  }
  return least;
}

const at = (lines: readonly FallLine[], share: number) =>
  lines.reduce((least, { fixed, falling }) => Math.min(least, fixed + (1 - share) * falling), Infinity);

test('whatever the prices of an offer fall by, no mix with it costs less than its lines, and often one costs just that', async () => {
  let [tried, reached] = [0, 0];
  const above: string[] = [];
  for (let seed = 1; seed <= 40; seed++) {
    const problem = problemOf(instance(seed));
    const best = problem.choices.length > 0 ? await cheapestOf(problem) : undefined;
    const living = best && (await Living.of(problem, unhurried, true));
    if (!best || !living) continue;
    const random = randomFrom(seed);
    const used = new Set(
      problem.choices.flatMap(({ supplier }, choice) => (best.plan.units[choice]! > 0 ? [supplier] : [])),
    );
    const forced = living.forced((supplier) => used.has(supplier), unhurried);
    living.dispose();
    for (const [choice, { offer }] of problem.choices.entries()) {
      const own = forced?.lines[choice];
      if (!own || problem.choices.filter((other) => other.offer === offer).length > 1) continue;
      const thousandths = random.pick([0, random.whole(1, 950)]);
      const least = await leastWith(fallen(problem, choice, thousandths), offer);
      if (least === undefined) continue;
      tried++;
      const bound = at(own, thousandths / 1000);
      if (bound > least + NOISE) above.push(`${seed} ${offer} ${thousandths}: ${bound} > ${least}`);
      if (bound > least - NOISE) reached++;
    }
  }
  expect(above).toEqual([]);
  expect(tried).toBeGreaterThan(80);
  expect(reached).toBeGreaterThan(tried / 3);
}, 120_000);
