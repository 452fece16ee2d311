import { describe, expect, it } from 'vitest';
import { cheapest } from './cheapest.ts';
import { INSTANCES, instance, seeds } from './instances.ts';
import { naive } from './naive.ts';
import { needsOf } from './needs.ts';
import { RULES_ON, RULE_NAMES, without } from './rules.ts';

const DECIDED_AT_LEAST = 20;

describe('the brute force of offers of every form', () => {
  const priced = seeds.map((seed) => ({ seed, job: instance(seed) }));

  it('stays within 3 requirements, 3 suppliers and 7 offers, of every form', () => {
    expect(Math.max(...priced.map(({ job }) => needsOf(job, RULES_ON).length))).toBe(3);
    expect(Math.max(...priced.map(({ job }) => job.suppliers.length))).toBe(3);
    expect(Math.max(...priced.map(({ job }) => job.offers.length))).toBe(7);
    const forms = new Set(priced.flatMap(({ job }) => job.offers.map(({ form }) => form)));
    expect([...forms].sort()).toEqual(['kit', 'length', 'metre', 'pack']);
  });

  it('loses nothing by its short cuts: trying every purchase as a whole, and larger ones, finds the same', () => {
    const tried = priced.flatMap(({ seed, job }) => {
      const found = naive(job, 2, 20_000);
      return found ? [{ seed, found, best: cheapest(job) }] : [];
    });
    expect(
      tried.filter(({ found, best }) => found.unsourced !== best.unsourced || found.cost !== best.cost),
    ).toEqual([]);
    expect(tried.length).toBeGreaterThanOrEqual(300);
  }, 60_000);

  it(`is put to every rule: each decides at least ${DECIDED_AT_LEAST} of the instances`, () => {
    const bests = priced.map(({ job }) => ({ job, best: cheapest(job) }));
    const decided = RULE_NAMES.map((name) => {
      const off = without(name);
      const count = bests.filter(({ job, best }) => {
        const other = cheapest(job, off);
        return other.unsourced !== best.unsourced || other.cost !== best.cost;
      }).length;
      return [name, count] as const;
    });
    console.log(
      `rules that decide, of ${INSTANCES} instances: ${decided.map((row) => row.join(' ')).join(', ')}`,
    );
    expect(decided.filter(([, count]) => count < DECIDED_AT_LEAST)).toEqual([]);
  }, 120_000);
});
