import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { parsedJob } from '../requirements.ts';
import { cheapest, compareOutcomes } from './cheapest.ts';
import { decisive } from './decisive.ts';
import { faultOf, isEqual, isProven, judged, type Judged } from './engineOn.ts';
import { beside, instance, sample, themeOf } from './instances.ts';
import { naive } from './naive.ts';
import { requirementsOf, wavesOf } from './requirements.ts';
import { asText } from './ratio.ts';
import { RULES_ON, RULE_NAMES } from './rules.ts';

const DECIDED_AT_LEAST = 4;
/** Of what must be bought beyond the need: a heavier parcel that goes for less, and a break that makes more cost less. */
const caught = ['heavier-for-less', 'up-to-a-break-1', 'up-to-a-break-2'];

describe('the brute force of all rules of sourcing', () => {
  it('is put to jobs of up to 4 parts, 3 suppliers, 10 offers and 3 orders, of every form', () => {
    const jobs = sample.map((seed) => instance(seed));
    expect(Math.max(...jobs.map((job) => requirementsOf(job, RULES_ON).length))).toBe(4);
    expect(Math.max(...jobs.map(({ suppliers }) => suppliers.length))).toBe(3);
    expect(Math.max(...jobs.map(({ offers }) => offers.length))).toBe(10);
    expect(Math.max(...jobs.map((job) => wavesOf(job, RULES_ON)))).toBe(3);
    const forms = new Set(jobs.flatMap(({ offers }) => offers.map(({ form }) => form)));
    expect([...forms].sort()).toEqual(['kit', 'length', 'metre', 'pack']);
  });

  it('loses nothing by its short cuts: judging every purchase as a whole, and larger ones, finds the same', () => {
    const tried = sample.flatMap((seed) => {
      const job = instance(seed);
      const found = naive(job, 2, 2500);
      return found ? [{ seed, found, best: cheapest(job) }] : [];
    });
    const apart = tried.filter(({ found, best }) => compareOutcomes(found, best) !== 0);
    expect(apart.map(({ seed }) => seed)).toEqual([]);
    expect(tried.length).toBeGreaterThanOrEqual(200);
    // Of every kind of job some.
    expect(new Set(tried.map(({ seed }) => themeOf(seed).name)).size).toBe(
      new Set(sample.map((seed) => themeOf(seed).name)).size,
    );
  });

  it(`is put to every rule: each decides at least ${DECIDED_AT_LEAST} of the jobs`, () => {
    const decided = decisive(sample);
    expect(Object.keys(decided)).toEqual([...RULE_NAMES]);
    expect(Object.entries(decided).filter(([, count]) => count < DECIDED_AT_LEAST)).toEqual([]);
  });
});

describe('the engine against the brute force of all rules of sourcing', () => {
  const priced: Judged[] = [];

  beforeAll(async () => {
    for (const seed of sample) priced.push(await judged(seed));
  }, 240_000);

  it('leaves as few needs unmet, at the same unrounded cost', () => {
    const apart = priced
      .filter((one) => !isEqual(one))
      .map(({ seed, result: { unsourced, proof }, best }) => ({
        seed,
        found: `${unsourced.length} unmet, ${proof.cost.amount}`,
        best: `${best.unmet} unmet, ${asText(best.cost)}`,
      }));
    expect(apart).toEqual([]);
  });

  it('buys by the rules what costs just what the proof says', () => {
    const faults = priced.flatMap((one) => {
      const fault = faultOf(one);
      return fault === undefined ? [] : [{ seed: one.seed, fault }];
    });
    expect(faults).toEqual([]);
  });

  it('proves every one of them to half a minor unit', () => {
    const badly = priced.filter((one) => !isProven(one));
    expect(badly.map(({ seed, result: { proof } }) => ({ seed, proof }))).toEqual([]);
  });

  it.each(beside)('does the same with instance %i, which was once answered wrongly', async (seed) => {
    const found = await judged(seed);
    expect([isEqual(found), faultOf(found), isProven(found)]).toEqual([true, undefined, true]);
  });

  it.each(caught)('does the same with %s, which found slips that the others did not', async (name) => {
    const file = new URL(`caught/${name}.json`, import.meta.url);
    const found = await judged(0, parsedJob(JSON.parse(readFileSync(file, 'utf8'))));
    expect([isEqual(found), faultOf(found), isProven(found)]).toEqual([true, undefined, true]);
  });
});
