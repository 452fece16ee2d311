import { beforeAll, describe, expect, it } from 'vitest';
import { compareLooms, type Compared } from '../../worker/engine/buildOrBuy/compare.ts';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { unhurried } from '../engine/fixtures.ts';
import { cheapest } from '../sourcing/whole/cheapest.ts';
import { compare, plus, ratio, sumOf, times, type Ratio } from '../sourcing/whole/ratio.ts';
import { loomJob, withBought, type LoomJob } from './loomJobs.ts';

const SEEDS = Array.from({ length: 300 }, (_, seed) => seed);

type Bought = LoomJob['madeUp'];

/** Every way to build each loom or to buy it made, each loom once. */
function everyWay(codes: readonly string[], madeUp: Bought): Bought[] {
  const [first, ...rest] = codes;
  if (first === undefined) return [[]];
  return [
    ...everyWay(
      rest,
      madeUp.filter(({ looms }) => !looms.includes(first)),
    ),
    ...madeUp
      .filter(({ looms }) => looms.includes(first) && looms.every((loom) => codes.includes(loom)))
      .flatMap((one) =>
        everyWay(
          rest.filter((code) => !one.looms.includes(code)),
          madeUp,
        ).map((others) => [one, ...others]),
      ),
  ];
}

/** What a combination comes to, pence; undefined where it cannot be bought. */
function totalOf(given: LoomJob, bought: Bought): Ratio | undefined {
  const { job, tool, extras, cuttingMinutes, takingOffMinutes, hourPence } = given;
  const { cost, unmet } = cheapest(withBought(job, bought));
  if (unmet > 0) return undefined;
  const replaced = new Set(bought.flatMap(({ looms }) => looms));
  let minutes = 0;
  for (const { loom, quantity } of job.request.looms) {
    const wires = (job.looms.find(({ code }) => code === loom)?.wires.length ?? 0) * quantity;
    minutes += wires * (takingOffMinutes + (replaced.has(loom) ? 0 : cuttingMinutes));
  }
  const builds = job.looms.some(({ code }) => !replaced.has(code));
  const [left, over] = tool.counted;
  const isBought = tool.looms.some((code) => !replaced.has(code));
  return sumOf([
    times(cost, ratio(100n, 1n)),
    ratio(BigInt(minutes * hourPence), 60n),
    ...(builds ? [ratio(BigInt(extras), 1n)] : []),
    ...(isBought ? [plus(ratio(BigInt(left), BigInt(over)), ratio(BigInt(-tool.paid), 1n))] : []),
  ]);
}

const partsOf = (bought: readonly { part: string }[]) =>
  bought
    .map(({ part }) => part)
    .sort()
    .join();

const asRatio = ({ over, under }: { over: bigint; under: bigint }) => ratio(over, under);

describe('build or buy against every combination worked by itself', () => {
  const all: { given: LoomJob; found: Compared; ways: { bought: Bought; total: Ratio }[] }[] = [];

  beforeAll(async () => {
    for (const seed of SEEDS) {
      const given = loomJob(seed);
      const ways = everyWay(
        given.job.looms.map(({ code }) => code),
        given.madeUp,
      ).flatMap((bought) => {
        const total = totalOf(given, bought);
        return total ? [{ bought, total }] : [];
      });
      all.push({ given, ways, found: await compareLooms(normaliseJob(given.job), unhurried) });
    }
  }, 240_000);

  const least = (ways: readonly { total: Ratio }[]) =>
    ways.reduce((best, { total }) => (compare(total, best) < 0 ? total : best), ways[0]!.total);

  it('finds the least total of all, to the last fraction, and proves it', () => {
    const apart = all.flatMap(({ found, ways }, seed) => {
      const total = found.best.mix && asRatio(found.best.mix.total);
      return found.proven && total && compare(total, least(ways)) === 0
        ? []
        : [
            {
              seed,
              total,
              least: least(ways),
              proven: found.proven,
              bought: found.best.bought.map(({ part }) => part),
            },
          ];
    });
    expect(apart).toEqual([]);
  });

  it('states for every combination that is worked to its end just what it comes to, and else a bound that holds', () => {
    const wrong = all.flatMap(({ found, ways }, seed) =>
      found.combinations.flatMap((one) => {
        const parts = partsOf(one.bought);
        const way = ways.find(({ bought }) => partsOf(bought) === parts);
        // What is ruled out by its bound need not be possible.
        const isRight = way
          ? compare(asRatio(one.bound), way.total) <= 0 &&
            (one.state === 'ruledOut' ||
              (one.state === 'proven' && compare(asRatio(one.mix!.total), way.total) === 0))
          : one.state === 'impossible' || one.state === 'ruledOut';
        return isRight ? [] : [{ seed, parts, state: one.state, way }];
      }),
    );
    expect(wrong).toEqual([]);
  });

  it('knows every combination that there is, and which buys all looms cheapest', () => {
    for (const { given, found, ways } of all) {
      expect(found.combinations.length).toBe(
        everyWay(
          given.job.looms.map(({ code }) => code),
          given.madeUp,
        ).length,
      );
      const whole = ways.filter(
        ({ bought }) => bought.flatMap(({ looms }) => looms).length === given.job.looms.length,
      );
      expect(found.allBought === undefined).toBe(whole.length === 0);
      if (found.allBought?.mix) expect(asRatio(found.allBought.mix.total)).toEqual(least(whole));
    }
  });

  it('buys nothing for a loom that is bought made', () => {
    for (const { found } of all)
      for (const { mix, built } of found.combinations)
        for (const requirement of mix?.ordered.order.requirements ?? []) {
          const made = requirement.kind === 'count' && requirement.part.startsWith('made');
          const uses = requirement.kind === 'count' ? requirement.uses : requirement.pieces;
          expect(uses.every(({ loom }) => built.includes(loom) !== made)).toBe(true);
        }
  });

  it('is put to jobs in which building all, buying all, and some of each is cheapest', () => {
    const kinds = all.map(({ found: { best, allBuilt, allBought } }) =>
      best === allBuilt ? 'built' : best === allBought ? 'bought' : 'mixed',
    );
    for (const kind of ['built', 'bought', 'mixed'])
      expect(kinds.filter((one) => one === kind).length).toBeGreaterThan(25);
    expect(all.some(({ found }) => found.combinations.some(({ state }) => state === 'ruledOut'))).toBe(true);
    expect(all.some(({ found }) => found.combinations.some(({ state }) => state === 'impossible'))).toBe(
      true,
    );
  });
});
