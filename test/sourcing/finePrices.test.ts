import { describe, expect, it } from 'vitest';
import { apart, badlyProven, judged, type Judged } from './engineOn.ts';
import { instance } from './instances.ts';
import { repriced } from './repriced.ts';

const INSTANCES = 400;

/** A price may carry 4 decimals beyond the minor unit, so a free threshold may be missed by less than a hair. */
describe.each([
  ['at a ten-thousandth of a minor unit', { times: 1, hairDecimal: 4 }],
  ['in the thousands, at a hundredth of a minor unit', { times: 997, hairDecimal: 2 }],
] as const)('prices %s', (_, prices) => {
  it('cost the same as trying every mix does, and no proof is false', async () => {
    const cases: Judged[] = [];
    for (let seed = 1; seed <= INSTANCES; seed += 1)
      cases.push(await judged(seed, repriced(instance(seed), prices)));
    expect(apart(cases)).toEqual([]);
    expect(badlyProven(cases)).toEqual([]);
  }, 120_000);
});
