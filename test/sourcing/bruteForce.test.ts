import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Job } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { bruteForceCost } from './bruteForce.ts';
import { apart, badlyProven, judged, type Judged } from './engineOn.ts';
import { fromProof } from './exactMoney.ts';
import { instance } from './instances.ts';
import { naiveCost } from './naive.ts';
import { needsOf, parsedJob } from './needs.ts';
import { costOfPurchases, faultsOfPurchases } from './purchases.ts';
import { RULE_NAMES, without } from './rules.ts';

const INSTANCES = 400;
const DECIDED_AT_LEAST = 20;

const seeds = Array.from({ length: INSTANCES }, (_, index) => index + 1);

describe('the brute force', () => {
  it('finds the cost of the three-wire example that was worked by hand', () => {
    const read = (name: string): unknown =>
      JSON.parse(readFileSync(new URL(`../../examples/three-wires/${name}`, import.meta.url), 'utf8'));
    const { exactTotal } = read('expected.json') as { exactTotal: string };
    const cost = bruteForceCost(parsedJob(read('job.json')));
    expect(cost).toBe(fromProof({ amount: exactTotal, currency: 'GBP' }));
  });

  it('loses nothing by its short cuts: no mix tried without any is cheaper', () => {
    const tried = seeds.flatMap((seed) => {
      const job = instance(seed);
      const naive = naiveCost(job, 5, 60_000);
      return naive === undefined || naive === Infinity ? [] : [{ seed, naive, cost: bruteForceCost(job) }];
    });
    expect(tried.filter(({ naive, cost }) => cost > BigInt(naive))).toEqual([]);
    expect(tried.length).toBeGreaterThanOrEqual(50);
  });

  it('stays within 4 requirements, 3 suppliers and 10 offers', () => {
    const jobs = seeds.map(instance);
    expect(Math.max(...jobs.map((job) => needsOf(job).length))).toBe(4);
    expect(Math.max(...jobs.map((job) => job.suppliers.length))).toBe(3);
    expect(Math.max(...jobs.map((job) => job.offers.length))).toBe(10);
  });
});

describe('the engine against the brute force', () => {
  const priced: Judged[] = [];

  beforeAll(async () => {
    for (const seed of seeds) priced.push(await judged(seed, instance(seed)));
  }, 180_000);

  it(`costs ${INSTANCES} random instances exactly as trying every mix does`, () => {
    expect(apart(priced)).toEqual([]);
  });

  it('proves every one of them to half a minor unit', () => {
    expect(badlyProven(priced)).toEqual([]);
  });

  it('buys by the rules what is needed, and what it buys costs what the proof says', () => {
    const wrong = priced.flatMap(({ seed, job, result }) => {
      const faults = faultsOfPurchases(job, result.purchases);
      const cost = costOfPurchases(job, result.purchases);
      return faults.length > 0 || cost !== fromProof(result.proof.cost) ? [{ seed, faults, cost }] : [];
    });
    expect(wrong).toEqual([]);
  });

  it('comes to the same requirements', () => {
    const amounts = ({ requirements }: Result) =>
      requirements
        .map((need) =>
          need.kind === 'count'
            ? `${need.part} ${need.quantity}`
            : `wire ${need.kind === 'wire' ? need.colour.base : need.part} ${need.totalMm}`,
        )
        .sort();
    const ours = (job: Job) =>
      needsOf(job)
        .map((need) =>
          need.kind === 'wire' ? `wire ${need.colour} ${need.totalMm}` : `${need.part} ${need.quantity}`,
        )
        .sort();
    for (const { job, result } of priced) expect(amounts(result)).toEqual(ours(job));
  });

  it(`is put to every rule: each decides at least ${DECIDED_AT_LEAST} of the instances`, () => {
    const decided = RULE_NAMES.map(
      (name) =>
        [name, priced.filter(({ job, best }) => bruteForceCost(job, without(name)) !== best).length] as const,
    );
    console.log(
      `rules that decide, of ${INSTANCES} instances: ${decided.map((row) => row.join(' ')).join(', ')}`,
    );
    expect(decided.filter(([, count]) => count < DECIDED_AT_LEAST)).toEqual([]);
  }, 60_000);
});
