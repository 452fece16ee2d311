import { describe, expect, test } from 'vitest';
import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import { unhurried } from '../../engine/fixtures.ts';
import { MIDDLING, MIDDLING_JOBS, middlingJob } from './instance.ts';
import { judged } from './judged.ts';
import { PLAIN_SHOPS, plainShopsJob } from './plainShops.ts';
import { rulesIn } from './rulesIn.ts';
import type { Straight } from './straight.ts';
import { verdictOf } from './verdict.ts';

const SECONDS = 60;
/** Of the 200, those that the model straight solves in an instant; among them all rules. */
const QUICK = [13, 14, 17, 25, 26, 76, 100, 108, 129, 168, 196];
/** Every seventh of the small ones, plain and correlated in turn. */
const SOME_SHOPS = PLAIN_SHOPS.filter((place) => place % 7 === 0);

const all = Array.from({ length: MIDDLING_JOBS }, (_, index) => middlingJob(index + 1));

describe('the middling jobs', () => {
  test('have 20 requirements, 6 suppliers and 120 offers', () => {
    for (const job of all) {
      const { requirements } = rollUp(normaliseJob(job), unhurried);
      expect([requirements.length, job.suppliers.length, job.offers.length]).toEqual([
        MIDDLING.requirements,
        MIDDLING.suppliers,
        MIDDLING.offers,
      ]);
    }
  });

  test('have each rule of sourcing in a tenth of them or more', () => {
    const times = new Map<string, number>();
    for (const rule of all.flatMap((job) => [...rulesIn(job)])) times.set(rule, (times.get(rule) ?? 0) + 1);
    expect(times.size).toBeGreaterThanOrEqual(45);
    expect([...times].filter(([, count]) => count < MIDDLING_JOBS / 10)).toEqual([]);
  });

  test('of those that are quick, some have each rule', () => {
    const quick = new Set(QUICK.flatMap((seed) => [...rulesIn(middlingJob(seed))]));
    expect([...new Set(all.flatMap((job) => [...rulesIn(job)]))].filter((rule) => !quick.has(rule))).toEqual(
      [],
    );
  });
});

describe('the engine beside the model given straight to the solver', () => {
  test.each(QUICK)('proves middling job %i at the same unrounded cost', async (seed) => {
    const { verdict, words } = await judged(middlingJob(seed), SECONDS);
    expect([verdict, words]).toEqual(['same', words]);
  });

  test('proves small jobs made as shops are at the same unrounded cost', async () => {
    const apart = [];
    for (const place of SOME_SHOPS) {
      const { verdict, words } = await judged(plainShopsJob(place), SECONDS);
      if (verdict !== 'same') apart.push({ place, verdict, words });
    }
    expect(apart).toEqual([]);
    expect(SOME_SHOPS.length).toBe(11);
  });
});

describe('the verdict on two answers', () => {
  const NO_PLAN = { units: [], cuts: [], unmet: [], without: [], options: [] };
  const ours = { plan: NO_PLAN, cost: 100n, proven: true };
  const left = { unmet: 0, without: 0 };
  const theirs: Straight = { proven: true, left, cost: 100n };
  const open: Straight = { proven: false, why: 'time', left, best: 120n, boundMinor: 0 };

  test('is same where both prove one cost with as little left undone', () => {
    expect(verdictOf(ours, theirs, 1n)).toBe('same');
  });

  test.each<[string, Partial<typeof ours>, Straight]>([
    ['costs differ by the least part', { cost: 101n }, theirs],
    ['the engine alone does not prove it', { proven: false }, theirs],
    ['one leaves more undone', {}, { ...theirs, left: { unmet: 1, without: 0 } }],
    ['what the engine proves was bettered straight', {}, { ...open, best: 99n }],
    ['what the engine proves lies below what is known straight', {}, { ...open, boundMinor: 1 }],
  ])('is apart where %s', (_, changed, direct) => {
    expect(verdictOf({ ...ours, ...changed }, direct, 1n)).toBe('apart');
  });

  test('is open where the model straight came to no end', () => {
    expect(verdictOf(ours, open, 1n)).toBe('open');
    expect(verdictOf(ours, { proven: false, why: 'time', left: undefined }, 1n)).toBe('open');
  });
});
