import { describe, expect, it } from 'vitest';
import { elsewhereOf } from '../../worker/engine/beside/elsewhere.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { offerParts, type Offer } from '../../worker/engine/model/offer.ts';
import type { Problem } from '../../worker/engine/sourcing/problem/problem.ts';
import { changed } from '../../worker/engine/sourcing/problem/changed.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { exactToAmount } from '../../worker/engine/units/money.ts';
import { problemOf } from '../bench/direct.ts';
import { unhurried } from '../engine/fixtures.ts';
import { instance } from '../sourcing/whole/instances.ts';
import { judgeOf, onSale, type Bought } from '../sourcing/whole/judge.ts';
import { asText, compare, fromDecimal } from '../sourcing/whole/ratio.ts';

/** What is bought of offers; what comes off the shelf the judge knows itself. */
function boughtBy({ offers }: Job, { choices, suppliers }: Problem, units: readonly number[]): Bought[] {
  return choices.flatMap(({ offer: code, wave, supplier }, at): Bought[] => {
    const offer = suppliers[supplier]?.own ? undefined : offers.find((one) => one.code === code);
    const count = units[at] ?? 0;
    if (!offer || count === 0) return [];
    return [{ offer, wave, count: offer.form === 'metre' ? count * offer.stepMm : count }];
  });
}

const MOST_WAYS = 400;

/** The purchase with every small amount of each of these offers in place of what is bought of them in the order. */
function otherWays(bought: readonly Bought[], offers: readonly Offer[], wave: number): Bought[][] {
  const isOne = (one: Bought) => one.wave === wave && offers.includes(one.offer);
  return offers.reduce<Bought[][]>(
    (ways, offer) =>
      ways
        .flatMap((way) => [way, ...onSale(offer, 8).map((count) => [...way, { offer, wave, count }])])
        .slice(0, MOST_WAYS),
    [bought.filter((one) => !isOne(one))],
  );
}

describe('a line elsewhere, under all rules of sourcing', () => {
  it('is a purchase that the judge of the brute force allows at the cost that it has, and none tried is cheaper', async () => {
    const counts = { moved: 0, tried: 0, changed: 0 };
    for (let index = 0; index < 26; index++) {
      const given = instance(19 + 61 * index);
      const { insistOn: _insistOn, atMostSuppliers: _atMost, ...request } = given.request;
      const job = { ...given, request };
      const problem = problemOf(job);
      if (problem.requirements.length === 0) continue;
      // A mix from as many suppliers as can be, so that lines have somewhere to go; it need not be the cheapest.
      const insistOn = [...new Set(problem.suppliers.flatMap(({ code, own }) => (own ? [] : [code])))].sort();
      const solved = await solveProblem(changed(problem, { insistOn }), unhurried);
      const judge = judgeOf(job);
      const best = judge(boughtBy(job, problem, solved.plan.units));
      if (!best) throw new Error('the mix is allowed');
      const codes = new Set(boughtBy(job, problem, solved.plan.units).map(({ offer }) => offer.supplier));
      for (const found of await elsewhereOf({ ...solved, problem }, unhurried)) {
        const choice = problem.choices[found.line];
        const line = job.offers.find(({ code }) => code === choice?.offer);
        if ('why' in found || !choice || !line) continue;
        counts.moved++;
        const bought = boughtBy(job, problem, found.plan.units);
        const outcome = judge(bought);
        expect(outcome).toMatchObject({ missing: best.missing, unmet: best.unmet });
        if (!outcome) continue;
        const cost = fromDecimal(exactToAmount(found.cost, job.club.currency, problem.scale));
        expect(asText(cost, 20)).toBe(asText(outcome.cost, 20));
        expect(bought.some(({ offer, wave }) => offer === line && wave === choice.wave)).toBe(false);
        if (compare(outcome.cost, best.cost) !== 0) counts.changed++;
        const parts = offerParts(line).map(({ part }) => part);
        const others = job.offers.filter(
          (offer) =>
            offer.supplier !== line.supplier &&
            codes.has(offer.supplier) &&
            offerParts(offer).some(({ part }) => parts.includes(part)),
        );
        for (const way of otherWays(bought, others, choice.wave)) {
          const other = judge(way);
          if (!other || other.unmet > best.unmet || other.missing > best.missing) continue;
          counts.tried++;
          expect(compare(other.cost, outcome.cost)).toBeGreaterThanOrEqual(0);
        }
      }
    }
    expect(counts.moved).toBeGreaterThan(8);
    expect(counts.changed).toBeGreaterThan(5);
    expect(counts.tried).toBeGreaterThan(100);
  }, 60_000);
});
