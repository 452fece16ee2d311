import { beforeAll, describe, expect, test } from 'vitest';
import { costOf } from '../../../worker/engine/sourcing/problem/pricing.ts';
import type { Plan, Problem } from '../../../worker/engine/sourcing/problem/problem.ts';
import { boundAt } from '../../../worker/engine/sourcing/search/bound.ts';
import { completePlans } from '../../../worker/engine/sourcing/search/complete.ts';
import { solvePlans, type LeafOf } from '../../../worker/engine/sourcing/search/leaf.ts';
import type { Network } from '../../../worker/engine/sourcing/search/network.ts';
import type { Part } from '../../../worker/engine/sourcing/search/prices.ts';
import { Rows } from '../../../worker/engine/sourcing/search/rows.ts';
import { searchMix } from '../../../worker/engine/sourcing/search/searchMix.ts';
import { undominatedPlans } from '../../../worker/engine/sourcing/search/undominatedPlans.ts';
import { withinRoom } from '../../../worker/engine/sourcing/search/withinRoom.ts';
import { MINOR_UNIT } from '../../../worker/engine/units/money.ts';
import { problemOf } from '../../bench/direct.ts';
import { unhurried } from '../../engine/fixtures.ts';
import { randomFrom } from '../random.ts';
import { instance } from '../whole/instances.ts';
import { endingAfter } from './endingAfter.ts';
import { allOpen, anyMultipliers, cheapestOf, groundOf, networkFor } from './network.ts';

/** Minor units. */
const NOISE = 1e-4;

/** What a network holds beside counted parts of one order. */
const KINDS: Record<string, (network: Network) => boolean> = {
  kits: ({ shared }) => shared.length > 0,
  'parts that share what a kit holds': ({ shared }) =>
    shared.some(({ capacities }) => capacities.some(({ requirements }) => requirements.length > 1)),
  families: ({ groups }) => groups.length > 0,
  orders: ({ requirements }) => requirements.some(({ needs }) => needs.length > 1),
  'postage by weight': ({ parcels }) => parcels.list.some(({ heldByWeight }) => heldByWeight),
  'postage that rises by value': ({ parcels }) => parcels.list.some(({ heldByValue }) => heldByValue),
  'stock for several orders': ({ stock }) => stock.length > 0,
  'pieces cut out of purchases that are not written out': ({ requirements }) =>
    requirements.some(({ isLoose }) => isLoose),
  'pieces cut out of what several suppliers sell': ({ requirements }) =>
    requirements.some(({ listed }) => listed !== undefined),
};

interface Known {
  seed: number;
  problem: Problem;
  network: Network;
  /** By the model given straight to the solver; undefined where not all can be met. */
  cheapest: { plan: Plan; minor: number } | undefined;
}

/** An order is made up by a length of a colour that is bought elsewhere: no plan of it has that shop. */
const FILLED_BY_A_LENGTH = 5019;

const known: Known[] = [];
beforeAll(async () => {
  for (const seed of [...Array.from({ length: 150 }, (_, at) => at + 1), FILLED_BY_A_LENGTH]) {
    const drawn = problemOf(instance(seed));
    for (const [problem, name] of [
      [drawn, seed] as const,
      ...insisting(drawn).map((one) => [one, -seed] as const),
    ]) {
      const network = problem.choices.length > 0 && (await networkFor(problem));
      if (network) known.push({ seed: name, problem, network, cheapest: await cheapestOf(problem) });
    }
  }
}, 120_000);

/** The problem with something bought of one of several suppliers that a requirement may be cut from: what is worth buying is not written out then. */
function insisting(problem: Problem): Problem[] {
  const codesOf = ({ choices }: Problem['requirements'][number]) =>
    choices
      .map((at) => problem.suppliers[problem.choices[at]!.supplier]!)
      .flatMap(({ own, code }) => (own ? [] : [code]));
  const cut = problem.requirements.find(
    (requirement) =>
      requirement.how === 'cut' && !requirement.oneSupplier && new Set(codesOf(requirement)).size > 1,
  );
  return cut ? [{ ...problem, insistOn: codesOf(cut).slice(0, 1) }] : [];
}

const solved = () => known.flatMap(({ cheapest, ...one }) => (cheapest ? [{ ...one, ...cheapest }] : []));

test('the instances hold everything that the search takes', () => {
  for (const [kind, holds] of Object.entries(KINDS))
    expect([kind, known.some(({ network }) => holds(network))]).toEqual([kind, true]);
  expect(known.length).toBeGreaterThan(140);
  expect(solved().length).toBeGreaterThan(120);
});

test('no multipliers give a bound above the least cost, nor leave out what the cheapest mix has sent', () => {
  let [telling, tried] = [0, 0];
  for (const { seed, problem, network, plan, minor } of solved()) {
    const random = randomFrom(seed);
    const [all, own] = [allOpen(network), groundOf(problem, network, plan)];
    for (let round = 0; round < 20; round++) {
      const multipliers = anyMultipliers(network, random, minor / network.requirements.length);
      const bound = boundAt(network, multipliers, all);
      expect([seed, Math.max(bound.value, minor + NOISE)]).toEqual([seed, minor + NOISE]);
      const inside = boundAt(network, multipliers, own).value;
      expect([seed, Math.max(inside, minor + NOISE)]).toEqual([seed, minor + NOISE]);
      const left = withinRoom(
        network,
        { ground: all, multipliers, at: bound },
        minor + 2 * NOISE,
        () => undefined,
      );
      own.open.forEach((is, k) => {
        if (is === 1) expect([seed, k, left?.open[k]]).toEqual([seed, k, 1]);
      });
      left?.must.forEach((is, supplier) => {
        if (is === 1) expect([seed, supplier, own.must[supplier]]).toEqual([seed, supplier, 1]);
      });
      tried++;
      if (bound.value > minor / 2) telling++;
    }
  }
  expect(telling).toBeGreaterThan(tried / 4);
});

describe('plans written out', () => {
  /** All plans of a requirement: a step in some parcel of each of some links, enough by each order. */
  function allPlans({ links, parcels, requirements }: Network, requirement: number): Part[][] {
    const { links: own, needs, listed } = requirements[requirement]!;
    const partsOf = (link: number) => {
      const { supplier, steps, shared } = links[link]!;
      const places = shared === undefined ? parcels.of[supplier]! : [];
      return steps.flatMap((_, step) =>
        (places.length > 0 ? places : [-1]).map((parcel): Part => ({ link, step, parcel })),
      );
    };
    const all = own.reduce<Part[][]>(
      (before, link) => before.flatMap((plan) => [plan, ...partsOf(link).map((part) => [...plan, part])]),
      [[]],
    );
    const isListed = (plan: readonly Part[]) =>
      listed!.some(
        (one) =>
          one.length === plan.length &&
          one.every(({ link, step }) => plan.some((part) => part.link === link && part.step === step)),
      );
    if (listed) return all.filter(isListed);
    return all.filter((plan) =>
      needs.every((need, stage) => {
        const given = plan.filter(({ link }) => links[link]!.stage <= stage);
        return given.reduce((sum, { link, step }) => sum + links[link]!.steps[step]!.gives, 0) >= need;
      }),
    );
  }

  const MOST = 2_000;
  const waysOf = ({ links, parcels, requirements }: Network) =>
    requirements.map(({ links: own }) =>
      own.reduce((many, link) => {
        const { steps, supplier } = links[link]!;
        return many * (1 + steps.length * Math.max(1, parcels.of[supplier]!.length));
      }, 1),
    );

  test('the cheapest mix of those that are kept costs what the cheapest of all does', async () => {
    let [compared, fewer] = [0, 0];
    for (const { seed, problem, network, minor } of solved()) {
      if (seed % 2 === 0 || network.requirements.some(({ isLoose }) => isLoose)) continue;
      if (waysOf(network).some((many) => many > MOST)) continue;
      const all = network.requirements.map((_, at) => allPlans(network, at));
      const of = {
        problem,
        network,
        rows: new Rows(network),
        ground: allOpen(network),
        keep: () => true,
        real: new Set<number>(),
      };
      const costOfMix = async (plans: LeafOf['plans']) => {
        const leaf = await solvePlans({ ...of, knowledge: new Map(), plans, limit: 1e9 }, unhurried);
        return leaf.status === 'solved' ? leaf.cost : undefined;
      };
      const least = await costOfMix(all);
      expect([seed, least === undefined || least > minor + NOISE]).toEqual([seed, false]);
      const undominated = all.map((list) => undominatedPlans(network, list));
      const multipliers = anyMultipliers(network, randomFrom(seed), minor / network.requirements.length);
      const bound = boundAt(network, multipliers, of.ground);
      const kept = completePlans(network, multipliers, of.ground, bound, least! + 1 - bound.value);
      expect([seed, await costOfMix(undominated)]).toEqual([seed, expect.closeTo(least!, 4)]);
      expect([seed, await costOfMix(kept)]).toEqual([seed, expect.closeTo(least!, 4)]);
      compared++;
      if (kept.some((list, at) => list.length < all[at]!.length)) fewer++;
    }
    expect(compared).toBeGreaterThan(30);
    expect(fewer).toBeGreaterThan(20);
  });
});

describe('a search', () => {
  test('ends with the cheapest mix, and tells no bound above its cost and no mix below it', async () => {
    for (const { seed, problem, cheapest } of known) {
      const least = cheapest?.minor ?? Infinity;
      const bests: number[] = [];
      const bounds: number[] = [];
      const searched = await searchMix(problem, unhurried, {
        onProgress: ({ best, bound }) => {
          if (best !== undefined) bests.push(best);
          if (bound !== undefined) bounds.push(bound);
        },
      });
      expect([seed, searched?.ended]).toEqual([seed, true]);
      expect([seed, searched?.plan && costOf(problem, searched.plan)]).toEqual([
        seed,
        cheapest && costOf(problem, cheapest.plan),
      ]);
      expect([seed, searched!.bound <= least + NOISE]).toEqual([seed, true]);
      expect([seed, bests.every((best) => best >= least - NOISE)]).toEqual([seed, true]);
      expect([seed, bounds.every((bound) => bound <= least + NOISE)]).toEqual([seed, true]);
      expect(bests).toEqual([...bests].sort((a, b) => b - a));
      expect(bounds).toEqual([...bounds].sort((a, b) => a - b));
    }
  });

  test('for a mix under a cost finds the cheapest where one costs less, and else ends without one', async () => {
    for (const { seed, problem, plan, minor } of solved()) {
      if (seed % 3 !== 0) continue;
      const least = costOf(problem, plan);
      const above = await searchMix(problem, unhurried, { under: least + MINOR_UNIT * problem.scale });
      expect([seed, above?.ended, above?.plan && costOf(problem, above.plan)]).toEqual([seed, true, least]);
      const none = await searchMix(problem, unhurried, { under: least });
      expect([seed, none?.ended, none!.bound <= minor]).toEqual([seed, true, true]);
    }
  });

  test('whose time ends has a bound no higher than the least cost, wherever that is', async () => {
    let stopped = 0;
    for (const { seed, problem, minor, plan } of solved()) {
      if (seed % 4 !== 0) continue;
      for (const asked of [0, 1, 2, 3, 5, 8, 13]) {
        const searched = await searchMix(problem, endingAfter(asked), {});
        if (!searched) continue;
        expect([seed, asked, searched.bound <= minor + NOISE]).toEqual([seed, asked, true]);
        const cost = searched.plan && costOf(problem, searched.plan);
        if (searched.ended) expect([seed, asked, cost]).toEqual([seed, asked, costOf(problem, plan)]);
        else stopped++;
      }
    }
    expect(stopped).toBeGreaterThan(30);
  });
});
