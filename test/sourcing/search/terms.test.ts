import { describe, expect, test } from 'vitest';
import { Job, type JobInput } from '../../../worker/engine/model/job.ts';
import { isAllowed } from '../../../worker/engine/sourcing/problem/allowed.ts';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Band, Problem, SupplierTerms } from '../../../worker/engine/sourcing/problem/problem.ts';
import { searchMix } from '../../../worker/engine/sourcing/search/searchMix.ts';
import { solveProblem } from '../../../worker/engine/sourcing/solve/solve.ts';
import { MINOR_UNIT } from '../../../worker/engine/units/money.ts';
import { problemOf } from '../../bench/direct.ts';
import { shopsJob } from '../../bench/shops.ts';
import { unhurried } from '../../engine/fixtures.ts';
import { randomFrom, type Random } from '../random.ts';
import { middlingJob } from '../middling/instance.ts';
import { instance } from '../whole/instances.ts';
import { cheapestOf, networkFor } from './network.ts';

const shops = (seed: number, requirements: number, suppliers: number, offers: number): JobInput =>
  shopsJob({ requirements, suppliers, offers, correlated: seed % 2 === 0, seed });
const shopsProblem = (...size: Parameters<typeof shops>) => problemOf(Job.parse(shops(...size)));

/** That the search comes to the end with what the model given straight to the solver finds; whether there is any mix. */
async function expectCheapest(problem: Problem, what: unknown): Promise<boolean> {
  const cheapest = await cheapestOf(problem);
  const searched = await searchMix(problem, unhurried, {});
  const found = searched?.plan && costOf(problem, searched.plan);
  const least = cheapest && costOf(problem, cheapest.plan);
  expect([what, searched?.ended, found]).toEqual([what, true, least]);
  return cheapest !== undefined;
}

test('no more suppliers than are allowed, and those insisted on, are kept to', async () => {
  let possible = 0;
  const problems = [...Array.from({ length: 10 }, (_, at) => problemOf(instance(7 * at + 1)))].filter(
    ({ choices }) => choices.length > 0,
  );
  for (const [at, problem] of problems.entries()) {
    const codes = [...new Set(problem.suppliers.flatMap(({ own, code }) => (own ? [] : [code])))];
    const asked: Partial<Problem>[] = [
      { atMostSuppliers: 1 },
      { atMostSuppliers: 2 },
      { insistOn: codes.slice(0, 1) },
      { insistOn: codes.slice(-2), atMostSuppliers: 2 },
    ];
    for (const terms of asked) if (await expectCheapest({ ...problem, ...terms }, [at, terms])) possible++;
  }
  expect(possible).toBeGreaterThan(10);
});

describe('thirty delivery bands', () => {
  const GRAM = 1_000_000;
  const BANDS = 30;

  /** Bands from each multiple of so much on; charges go up and down, or only up. */
  function bandsOf(random: Random, { bands: [first] }: SupplierTerms, by: 'value' | 'weight', scale: bigint) {
    const apart = random.whole(80, 120);
    return Array.from({ length: BANDS }, (_, at): Band => {
      const end = at < BANDS - 1 ? (at + 1) * apart : undefined;
      const minor = by === 'weight' ? 100 + at * 40 + random.whole(0, 30) : random.whole(0, 900);
      const value = by === 'value';
      return {
        from: value ? BigInt(at * apart) * MINOR_UNIT : 0n,
        below: value && end !== undefined ? BigInt(end) * MINOR_UNIT : undefined,
        fromMicrograms: value ? 0 : at * apart * GRAM,
        belowMicrograms: value || end === undefined ? undefined : end * GRAM,
        charge: BigInt(minor) * MINOR_UNIT * scale,
        rate: first!.rate,
        charges: [],
      };
    });
  }

  test.each(['value', 'weight'] as const)('by %s are told apart', async (by) => {
    for (const seed of [1, 2]) {
      const random = randomFrom(seed);
      const problem = shopsProblem(seed, 3, 2, 10);
      const banded: Problem = {
        ...problem,
        choices: problem.choices.map((choice) => ({
          ...choice,
          microgramsPerUnit: random.whole(0, 400) * (GRAM / 10),
        })),
        suppliers: problem.suppliers.map((terms) => ({
          ...terms,
          bands: bandsOf(random, terms, by, problem.scale),
        })),
      };
      expect(await expectCheapest(banded, [by, seed])).toBe(true);
    }
  });
});

test('pieces out of a kit that meet a sum by units are bought, and nothing is left undone', async () => {
  const problem = problemOf(middlingJob(4));
  expect(await expectCheapest(problem, 'kits')).toBe(true);
});

test('requirements with more than ten thousand plans are met at the least cost', async () => {
  for (const seed of [1, 2]) {
    const problem = shopsProblem(seed, 2, 12, 60);
    const { links, requirements } = (await networkFor(problem))!;
    // A step, or none, of each link: of so many combinations far more than ten thousand are enough.
    const combinations = requirements.map(({ links: own }) =>
      own.reduce((many, link) => many * (1 + links[link]!.steps.length), 1),
    );
    expect(Math.max(...combinations)).toBeGreaterThan(100_000);
    expect(await expectCheapest(problem, seed)).toBe(true);
  }
});

test('of stock that ends within a step of packs only whole steps are bought', async () => {
  for (const seed of [1, 2]) {
    const job = shops(seed, 4, 3, 20);
    const offers = job.offers.map((offer, at) =>
      offer.form === 'pack' && at >= 6
        ? { ...offer, minimumPacks: 1, stepPacks: 3, stockPacks: 2 + (at % 4) }
        : offer,
    );
    const problem = problemOf(Job.parse({ ...job, offers }));
    const searched = await searchMix(problem, unhurried, {});
    expect(searched?.plan && isAllowed(problem, searched.plan)).toBe(true);
    expect(await expectCheapest(problem, seed)).toBe(true);
  }
});

test('where the simplex method gives way it is proven all the same that not all can be had', async () => {
  const problem: Problem = { ...problemOf(instance(101)), insistOn: ['south', 'west'], atMostSuppliers: 2 };
  expect(await cheapestOf(problem)).toBeUndefined();
  const { proven, plan } = await solveProblem(problem, unhurried, { ties: false });
  expect([proven, plan.unmet.length + plan.without.length > 0]).toEqual([true, true]);
});

describe('numbers beyond the solver', () => {
  const scaled = (problem: Problem, price: bigint, need: number): Problem => ({
    ...problem,
    requirements: problem.requirements.map((requirement) => ({
      ...requirement,
      need: requirement.need * need,
    })),
    covers: problem.covers.map((cover) => ({
      ...cover,
      members: cover.members.map((member) => ({ ...member, need: member.need * need })),
    })),
    choices: problem.choices.map((choice) => ({
      ...choice,
      tiers: choice.tiers.map((tier) => ({ ...tier, price: tier.price * price })),
    })),
  });

  test.each([
    { of: 'prices', price: 10n ** 9n, need: 1 },
    { of: 'prices', price: 10n ** 15n, need: 1 },
    { of: 'needs', price: 1n, need: 10 ** 6 },
    { of: 'needs', price: 1n, need: 10 ** 11 },
    { of: 'both', price: 10n ** 9n, need: 10 ** 9 },
  ])(
    'of $of, $price-fold and $need-fold, are answered with a bound no higher than the cost',
    async ({ price, need }) => {
      for (const seed of [1, 2]) {
        const plain = shopsProblem(seed, 3, 3, 12);
        const problem = scaled(plain, price, need);
        const solved = await solveProblem(problem, unhurried, { ties: false });
        expect(solved.plan.unmet).toEqual([]);
        expect(isAllowed(problem, solved.plan)).toBe(true);
        expect(solved.cost).toBe(costOf(problem, solved.plan));
        expect(solved.bound <= solved.cost).toBe(true);
      }
    },
  );
});
