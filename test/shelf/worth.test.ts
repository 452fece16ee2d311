import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { minorOf } from '../../worker/engine/model/orderCost.ts';
import { shareOfWorth, splitWorth } from '../../worker/engine/model/worth.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });

describe('what was paid', () => {
  test('is shared by how many are taken, to the nearest penny', () => {
    expect(shareOfWorth(gbp('10.00'), 1, 3)).toEqual(gbp('3.33'));
    expect(shareOfWorth(gbp('10.00'), 2, 3)).toEqual(gbp('6.67'));
    expect(shareOfWorth(gbp('10.00'), 3, 3)).toEqual(gbp('10.00'));
    expect(shareOfWorth(gbp('10.00'), 0, 0)).toEqual(gbp('0.00'));
  });

  test('is split by length without losing or making a penny', () => {
    expect(splitWorth(gbp('1.00'), [3200, 3200, 3200])).toEqual([gbp('0.33'), gbp('0.34'), gbp('0.33')]);
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100_000 }),
        fc.array(fc.integer({ min: 0, max: 9000 }), { minLength: 1, maxLength: 8 }),
        (minor, weights) => {
          const shares = splitWorth(gbp((minor / 100).toFixed(2)), weights).map(minorOf);
          expect(shares.reduce((sum, share) => sum + share, 0n)).toBe(BigInt(minor));
          expect(shares.every((share) => share >= 0n)).toBe(true);
        },
      ),
    );
  });

  test('is all gone when all is taken, in whatever steps', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 100_000 }),
        fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 1, maxLength: 12 }),
        (minor, steps) => {
          let left = BigInt(minor);
          let count = steps.reduce((sum, step) => sum + step, 0);
          for (const step of steps) {
            const share = minorOf(shareOfWorth(gbp((Number(left) / 100).toFixed(2)), step, count));
            left -= share;
            count -= step;
            expect(left >= 0n).toBe(true);
          }
          expect(left).toBe(0n);
        },
      ),
    );
  });
});
