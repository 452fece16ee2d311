import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { priceJob, quoteJob } from '../../worker/engine/engine.ts';
import { canonicalJson } from '../../worker/engine/model/canonical.ts';
import { Cancelled, type Control } from '../../worker/engine/model/control.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { arbitraryJob, shuffled } from '../engine/arbitraryJob.ts';
import { priced, unhurried } from '../engine/fixtures.ts';
import { jobOfPacks, packJob } from './packJobs.ts';

const asking = (job: Job, besideSeconds: number): Job => ({
  ...job,
  request: { ...job.request, settings: { ...job.request.settings, besideSeconds } },
});

/** Told on its way that the clock stands at so much; without a clock of its own. */
const clock = (left: { ms: number }): Control => ({ ...unhurried, remainingMs: () => left.ms });

describe('what lies beside the cheapest', () => {
  const job = jobOfPacks(packJob(3));

  test('is not in the result where the setting besideSeconds is 0', async () => {
    expect(await priced(asking(job, 0))).not.toHaveProperty('beside');
    expect(await priced(asking(job, 60))).toHaveProperty('beside');
  });

  test('changes nothing else of the result', async () => {
    const { beside, settings, looms, jobHash, ...rest } = await priced(asking(job, 60));
    const { jobHash: otherHash, ...without } = await priced(asking(job, 0));
    expect([beside !== undefined, settings['besideSeconds']?.value, jobHash === otherHash]).toEqual([
      true,
      60,
      false,
    ]);
    expect({ ...rest, settings: without.settings, looms: without.looms }).toEqual(without);
    expect(looms).toHaveLength(1);
  });

  test('is told of as work of its own, before the quote is written', async () => {
    const phases: string[] = [];
    await priceJob(asking(job, 60), { ...unhurried, report: ({ phase }) => phases.push(phase) });
    expect(new Set(phases)).toEqual(new Set(['rollUp', 'sourcing', 'beside', 'writing']));
    expect(phases.indexOf('beside')).toBeGreaterThan(phases.lastIndexOf('sourcing'));
    expect(phases.at(-1)).toBe('writing');
  });

  test('says of every part that time ended before it was worked', async () => {
    const left = { ms: 60_000 };
    const control = clock(left);
    const { beside, proof, purchases } = await priced(asking(job, 60), {
      ...control,
      report: ({ phase }) => (left.ms = phase === 'beside' ? 0 : left.ms),
    });
    expect(proof.status).toBe('proven');
    expect(beside?.unfinished.map(({ part }) => part)).toEqual(['otherSet', 'elsewhere', 'falls']);
    expect(beside?.unfinished.every(({ left: count, why }) => count > 0 && why === 'time')).toBe(true);
    // What is known stands all the same, and each line says that it was not worked, or why it cannot move.
    expect(beside?.bySuppliers.map(({ atMost, proven }) => [atMost, proven])).toEqual([
      [1, true],
      [2, true],
    ]);
    expect(beside?.elsewhere).toHaveLength(purchases.length);
    expect(beside?.elsewhere.every(({ why }) => why !== undefined)).toBe(true);
  });

  test('is given no more than besideSeconds of what the control has left', async () => {
    // A clock that runs a second at every look.
    const left = { ms: 3_600_000 };
    let began = 0;
    const control: Control = {
      ...unhurried,
      remainingMs: () => (left.ms -= 1000),
      report: ({ phase }) => {
        if (phase === 'beside' && began === 0) began = left.ms;
      },
    };
    const { beside } = await priced(asking(job, 5), control);
    expect(beside?.unfinished.length).toBeGreaterThan(0);
    expect(began - left.ms).toBeLessThan(600_000);
  });

  test('has time of its own: what the quote took does not count', async () => {
    const left = { ms: 60_000 };
    // The time for the quote is over as soon as it is there.
    const spent = () => ((left.ms = 0), unhurried);
    const { beside, timeLimited } = await priceJob(asking(job, 60), clock(left), { beside: spent });
    expect(left.ms).toBe(0);
    expect(beside?.unfinished).toEqual([]);
    expect(timeLimited).toEqual([]);
  });

  test('comes after the quote, which is there by then, says that it is still worked, and stays as it is where it is proven', async () => {
    const quote = await quoteJob(asking(job, 60), unhurried);
    const { besideState, timeLimited: _early, ...first } = quote.result();
    expect(first.proof.assumptions.at(-1)).toContain('the one with the least surplus is taken');
    expect(besideState).toBe('working');
    const whole = await quote.withBeside?.(unhurried);
    if (!whole) throw new Error('something lies beside it');
    const { beside, timeLimited: _whole, ...last } = whole;
    expect(beside).toBeDefined();
    expect(last).toEqual(first);
    const alone = await quoteJob(asking(job, 0), unhurried);
    expect(alone.withBeside).toBeUndefined();
    expect(alone.result()).not.toHaveProperty('besideState');
  });

  test('ended by time is named among what may come out otherwise; what is worked to its end is not', async () => {
    const none = { ...unhurried, remainingMs: () => 0 };
    const hasty = await priceJob(asking(job, 60), none);
    expect(hasty.proof.status).toBe('bestSoFar');
    expect(hasty.timeLimited).toEqual(['purchases', 'comparisons', 'beside']);
    const half = await priceJob(asking(job, 60), unhurried, { beside: () => none });
    expect(half.timeLimited).toEqual(['beside']);
    expect((await priceJob(asking(job, 60), unhurried)).timeLimited).toEqual([]);
  });

  test('ends with Cancelled wherever the control says so', async () => {
    const looks: boolean[] = [];
    let isBeside = false;
    const watching: Control = {
      ...unhurried,
      report: ({ phase }) => (isBeside = phase === 'beside'),
      cancelled: () => (looks.push(isBeside), false),
    };
    await priceJob(asking(job, 60), watching);
    const places = looks.flatMap((beside, at) => (beside ? [at] : []));
    expect(places.length).toBeGreaterThan(5);
    const some = places.filter((_, index) => index % Math.ceil(places.length / 4) === 0);
    for (const at of some) {
      let look = 0;
      const control: Control = { ...unhurried, cancelled: () => look++ >= at };
      await expect(priceJob(asking(job, 60), control)).rejects.toThrow(Cancelled);
    }
  });

  test('of any job is the same to the byte, in whatever order its lists stand, and never better than what is proven', async () => {
    let some = 0;
    await fc.assert(
      fc.asyncProperty(
        arbitraryJob,
        fc.infiniteStream(fc.double({ min: 0, max: 0.999, noNaN: true })),
        async (given, dice) => {
          const asked = asking(given, 60);
          const { jobHash: _hash, ...result } = await priced(asked);
          const draw = (): number => (dice.next() as IteratorYieldResult<number>).value;
          const { jobHash: _otherHash, ...other } = await priced(shuffled(asked, draw));
          expect(canonicalJson(other.beside)).toBe(canonicalJson(result.beside));
          const { beside } = result;
          if (!beside) return;
          some++;
          expect(beside.unfinished).toEqual([]);
          const own = Number(result.proof.cost.amount);
          const unmet = beside.bySuppliers.at(-1)?.unmet ?? -1;
          for (const mix of [
            ...beside.bySuppliers,
            ...beside.byDay,
            ...(beside.otherSet ? [beside.otherSet] : []),
          ]) {
            expect(mix.unmet).toBeGreaterThanOrEqual(unmet);
            // Pence are as near as numbers hold.
            if (mix.unmet === unmet) expect(Number(mix.cost.amount)).toBeGreaterThan(own - 0.005);
          }
          const bought = new Set(result.purchases.map(({ offer }) => offer));
          expect(beside.falls.filter(({ offer }) => bought.has(offer))).toEqual([]);
          expect(beside.elsewhere.map(({ offer }) => offer)).toEqual(
            result.purchases.map(({ offer }) => offer),
          );
        },
      ),
      { numRuns: 5 },
    );
    expect(some).toBeGreaterThan(0);
  });
});
