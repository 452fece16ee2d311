import { describe, expect, it } from 'vitest';
import { priced } from '../../engine/fixtures.ts';
import { boughtBy } from './engineOn.ts';
import { compareRanks, firstOfEqual, ranksOf } from './ranks.ts';
import { tiedJob } from './tied.ts';

const JOBS = 60;
const DECIDED_AT_LEAST = 5;

describe('of all purchases of the least cost', () => {
  it('the engine buys one with least too much, of these the longest lengths, of these from fewest suppliers', async () => {
    const apart: object[] = [];
    const decided = { tooMuch: 0, mm: 0, parcels: 0 };
    for (let seed = 0; seed < JOBS; seed += 1) {
      const job = tiedJob(seed);
      const { ranks, decides } = firstOfEqual(job, 9);
      for (const rank of new Set(decides)) decided[rank] += 1;
      const { purchases } = await priced(job);
      const found = ranksOf(
        job,
        purchases.map((purchase) => boughtBy(job, purchase)),
      );
      if (compareRanks(found, ranks) !== 0) apart.push({ seed, found, ranks });
    }
    expect(apart).toEqual([]);
    expect(Math.min(...Object.values(decided)), JSON.stringify(decided)).toBeGreaterThanOrEqual(
      DECIDED_AT_LEAST,
    );
  });
});
