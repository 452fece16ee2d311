import { describe, expect, it } from 'vitest';
import { priced } from '../../engine/fixtures.ts';
import { boughtBy } from './engineOn.ts';
import { compareRanks, firstOfEqual, ranksOf } from './ranks.ts';
import { tiedJob } from './tied.ts';

const JOBS = Number(process.env.TIED ?? 80);

describe('of all purchases of the least cost', () => {
  it('the engine buys one with least too much, of these the longest lengths, of these from fewest suppliers', async () => {
    const apart: object[] = [];
    let decided = 0;
    for (let seed = 0; seed < JOBS; seed += 1) {
      const job = tiedJob(seed);
      const { ranks, equals } = firstOfEqual(job, 9);
      const result = await priced(job);
      const found = ranksOf(
        job,
        result.purchases.map((purchase) => boughtBy(job, purchase)),
      );
      if (equals > 1) decided += 1;
      if (compareRanks(found, ranks) !== 0) apart.push({ seed, found, ranks });
    }
    expect(apart).toEqual([]);
    expect(decided).toBeGreaterThan(JOBS / 4);
  });
});
