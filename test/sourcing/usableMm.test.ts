import { expect, test } from 'vitest';
import { Offer } from '../../worker/engine/model/offer.ts';
import { usableMm } from '../../worker/engine/model/offerPrice.ts';

const length = (tolerancePercent: number, endLossMm: number) => {
  const offer = Offer.parse({
    form: 'length',
    code: 'l',
    supplier: 's',
    part: 'p',
    nominalMm: 1000,
    packPrice: { amount: '1', currency: 'GBP' },
    tolerancePercent,
    endLossMm,
  });
  if (offer.form !== 'length') throw new Error('it is a length');
  return usableMm(offer);
};

test('of a metre that may be 7.125 % short, 928 mm are sure: a part of a millimetre holds no piece', () => {
  expect(length(0, 0)).toBe(1000);
  expect(length(2.5, 0)).toBe(975);
  // 928.75 mm.
  expect(length(7.125, 0)).toBe(928);
  expect(length(7.125, 100)).toBe(828);
});
