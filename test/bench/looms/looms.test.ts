import { describe, expect, test } from 'vitest';
import { Job } from '../../../worker/engine/model/job.ts';
import type { Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { problemOf } from '../direct.ts';
import { holdingsOf } from '../holdings.ts';
import { loomsJob, type Family } from './looms.ts';

const problems = new Map<Family, Problem>();
/** In two orders, so that all rules are in it. */
function problem(family: Family): Problem {
  const known = problems.get(family) ?? problemOf(Job.parse(loomsJob({ family, twoOrders: true, seed: 1 })));
  problems.set(family, known);
  return known;
}
const EACH = ['oneLoom', 'fortyLooms'] as const;

describe('generated looms of members', () => {
  test('are as big as a vehicle’s loom', () => {
    const { needs, offers, suppliers } = holdingsOf(problem('oneLoom'));
    expect([needs >= 60, needs <= 120]).toEqual([true, true]);
    expect([offers >= 300, offers <= 500]).toEqual([true, true]);
    expect([suppliers >= 8, suppliers <= 12]).toEqual([true, true]);
  });

  test.each(EACH)('hold kits, families, postage by weight, a shelf and two orders: %s', (family) => {
    const { kits, families, byWeight, shelf, orders } = holdingsOf(problem(family));
    expect(orders).toBe(2);
    expect([1, 2]).toContain(byWeight);
    for (const count of [kits, families, shelf]) expect(count).toBeGreaterThan(1);
  });

  test.each(EACH)('can be bought whole: of each need there is an offer without end: %s', (family) => {
    const { requirements, choices } = problem(family);
    const open = requirements.filter(({ how, pieces, choices: own }) => {
      const longest = how === 'sum' ? 0 : (pieces[0]?.mm ?? 0);
      return !own.some((at) => {
        const choice = choices[at];
        if (!choice || choice.mostUnits !== undefined) return false;
        // One continuous length is as long as it has to be.
        return choice.form !== 'length' || choice.serves.some(({ each }) => each >= longest);
      });
    });
    expect(open.map(({ id }) => id)).toEqual([]);
  });

  test('cut a colour into more lengths the more kinds of loom there are', () => {
    const [one, forty] = EACH.map((family) => holdingsOf(problem(family)).mostLengths);
    expect(one).toBeLessThanOrEqual(20);
    expect(forty).toBeGreaterThanOrEqual(30);
  });

  test('have wire in hanks and by the metre, parts that stand in, free postage, minimum orders and breaks', () => {
    const { offers, suppliers, parts } = loomsJob({ family: 'oneLoom', twoOrders: false, seed: 1 });
    for (const form of ['metre', 'length'])
      expect(
        offers.filter((offer) => offer.form === form && 'part' in offer && offer.part.startsWith('cable'))
          .length,
      ).toBeGreaterThan(20);
    expect(parts.filter(({ standsInFor }) => standsInFor !== undefined).length).toBeGreaterThan(5);
    expect(offers.filter(({ breaks }) => breaks !== undefined).length).toBeGreaterThan(50);
    expect(suppliers.some(({ minimumOrder }) => minimumOrder !== undefined)).toBe(true);
    const free = suppliers.filter(
      ({ postage }) => postage?.by === 'value' && postage.bands.at(-1)?.charge.amount === '0.00',
    );
    expect(free.length).toBeGreaterThan(2);
  });

  test('ask for so many looms in all, whether in one order or in two', () => {
    const counted = (family: Family, twoOrders: boolean) =>
      loomsJob({ family, twoOrders, seed: 2 }).request.looms.reduce((sum, { quantity }) => sum + quantity, 0);
    for (const twoOrders of [false, true])
      expect([counted('tenLooms', twoOrders), counted('fortyLooms', twoOrders)]).toEqual([10, 40]);
  });

  test('are the same for the same seed, and others for another', () => {
    const job = (seed: number) => loomsJob({ family: 'tenLooms', twoOrders: true, seed });
    expect(job(3)).toEqual(job(3));
    expect(job(4)).not.toEqual(job(3));
  });
});
