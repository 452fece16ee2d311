import { describe, expect, it } from 'vitest';
import { fallsOf, type Fall } from '../../worker/engine/beside/falls.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { solveProblem } from '../../worker/engine/sourcing/solve/solve.ts';
import { problemOf } from '../bench/direct.ts';
import { priced, unhurried } from '../engine/fixtures.ts';
import { cheapest, compareOutcomes } from '../sourcing/whole/cheapest.ts';
import { instance } from '../sourcing/whole/instances.ts';
import { exactlyForced } from './exactlyForced.ts';
import { deliveredPence, everyWay, jobOfPacks, meets, packJob, type PackJob } from './packJobs.ts';

/** The job with all prices of an offer lower by at most this share, up to what a price may carry. */
function withFall(job: Job, code: string, millionths: number): Job {
  const lower = <T extends { amount: string; currency: string }>(price: T): T => {
    const decimals = (price.currency === 'JPY' ? 0 : price.currency === 'KWD' ? 3 : 2) + 4;
    const scaled = BigInt(Math.round(Number(price.amount) * 10 ** decimals)) * BigInt(1_000_000 - millionths);
    const up = (scaled + 999_999n) / 1_000_000n;
    const digits = up.toString().padStart(decimals + 1, '0');
    return { ...price, amount: `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}` };
  };
  return {
    ...job,
    offers: job.offers.map((offer) => {
      if (offer.code !== code) return offer;
      if (offer.form === 'metre')
        return {
          ...offer,
          pricePerMetre: lower(offer.pricePerMetre),
          ...(offer.breaks && {
            breaks: offer.breaks.map((one) => ({ ...one, pricePerMetre: lower(one.pricePerMetre) })),
          }),
        };
      return {
        ...offer,
        packPrice: lower(offer.packPrice),
        ...(offer.breaks && {
          breaks: offer.breaks.map((one) => ({ ...one, packPrice: lower(one.packPrice) })),
        }),
      };
    }),
  };
}

async function fallsIn(job: Job): Promise<Fall[]> {
  const problem = problemOf(job);
  if (problem.requirements.length === 0) return [];
  const solved = await solveProblem(problem, unhurried);
  expect(solved.proven).toBe(true);
  return fallsOf({ ...solved, problem }, await exactlyForced(problem, solved));
}

/** One part, three packs of one bought for 1.00, and another offer of them; nobody charges postage. */
const twoShops = (price: number, bands = [{ from: 0, charge: 0 }]): PackJob => ({
  requirements: [{ part: 'a', quantity: 3 }],
  suppliers: [
    { code: 'north', minimum: 0, bands: [{ from: 0, charge: 0 }] },
    { code: 'south', minimum: 0, bands },
  ],
  offers: [
    { code: 'bought', supplier: 'north', part: 'a', count: 1, price: 100 },
    { code: 'losing', supplier: 'south', part: 'a', count: 1, price },
  ],
});

describe('the fall that a losing offer needs at the least', () => {
  it('is a share of the line that would win, worked by hand', async () => {
    // A single one at 1.25 makes the mix dearer by 0.25; three of them, the most worth buying, fall by that together: 0.25 / 3.75.
    expect(await fallsIn(jobOfPacks(twoShops(125)))).toEqual([
      { offer: 'losing', supplier: 'south', millionths: 66_666, never: false },
    ]);
    // One pack of it at 4.00 with postage of 1.00 makes the mix dearer by 2.00: half of its price.
    const one = twoShops(400, [{ from: 0, charge: 100 }]);
    const pack = {
      ...one,
      offers: one.offers.map((offer) => (offer.code === 'losing' ? { ...offer, count: 3 } : offer)),
    };
    expect(await fallsIn(jobOfPacks(pack))).toEqual([
      { offer: 'losing', supplier: 'south', millionths: 500_000, never: false },
    ]);
  });

  it('is none where postage alone is dearer than what is bought', async () => {
    expect(await fallsIn(jobOfPacks(twoShops(125, [{ from: 0, charge: 500 }])))).toEqual([
      { offer: 'losing', supplier: 'south', millionths: 1_000_000, never: true },
    ]);
  });

  it('is nothing where nothing is known', async () => {
    const problem = problemOf(jobOfPacks(twoShops(125)));
    const solved = await solveProblem(problem, unhurried);
    const none = problem.choices.map(() => 0n);
    expect(fallsOf({ ...solved, problem }, none).map(({ millionths }) => millionths)).toEqual([0]);
  });

  it('is in the result only where it says something; of how many it does not is counted', async () => {
    // 1.00 from both shops: nothing keeps the other offer out of a cheapest mix.
    const result = await priced(jobOfPacks(twoShops(100)));
    expect(result.beside?.falls).toEqual([]);
    expect(result.beside?.fallsUnknown).toBe(1);
    const dearer = await priced(jobOfPacks(twoShops(125)));
    expect(dearer.beside?.falls.map(({ offer }) => offer)).toEqual(['losing']);
    expect(dearer.beside).not.toHaveProperty('fallsUnknown');
  });

  it('reckons with more being bought to reach free postage, the cheaper the offer is', async () => {
    // Postage 3.00, free from 6.00 of goods: at 1.50 it takes four, at half of that eight.
    const bands = [
      { from: 0, charge: 300 },
      { from: 600, charge: 0 },
    ];
    const job = twoShops(150, bands);
    const [fall] = await fallsIn(jobOfPacks(job));
    if (!fall) throw new Error('there is one');
    expect(fall.millionths).toBeGreaterThan(0);
    const lowered = (millionths: number): PackJob => ({
      ...job,
      offers: job.offers.map((offer) =>
        offer.code === 'losing'
          ? { ...offer, price: (offer.price * (1_000_000 - millionths)) / 1_000_000 }
          : offer,
      ),
    });
    const least = (of: PackJob) =>
      [...everyWay(['bought', 'losing'], 30)]
        .filter((units) => (units['losing'] ?? 0) > 0 && meets(of, units))
        .reduce((cost, units) => Math.min(cost, deliveredPence(of, units) ?? Infinity), Infinity);
    for (let millionths = 0; millionths <= fall.millionths; millionths += Math.ceil(fall.millionths / 50))
      expect(least(lowered(millionths))).toBeGreaterThanOrEqual(300 - 1e-9);
  });

  it('is never too high: at prices lower by so much the least cost is what it was, by trying every purchase', async () => {
    let some = 0;
    const jobs = [
      ...Array.from({ length: 16 }, (_, index) => instance(11 + 97 * index)),
      ...Array.from({ length: 2 }, (_, index) => jobOfPacks(packJob(200 + index))),
    ];
    for (const job of jobs) {
      const best = cheapest(job);
      for (const { offer, millionths, never } of await fallsIn(job)) {
        if (millionths === 0) continue;
        some++;
        // Nearly for nothing there are too many amounts that reach a threshold to try.
        const tried = never ? 1_000_000 : Math.min(millionths, 800_000);
        const lowered = cheapest(withFall(job, offer, tried));
        expect([offer, millionths, compareOutcomes(lowered, best)]).toEqual([offer, millionths, 0]);
      }
    }
    expect(some).toBeGreaterThan(10);
  }, 60_000);
});
