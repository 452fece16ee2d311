import { describe, expect, test } from 'vitest';
import type { Bought } from '../../worker/engine/model/bought.ts';
import { Offer } from '../../worker/engine/model/offer.ts';
import { withPaidPrice } from '../../worker/engine/model/paidPrice.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });
const pack = Offer.parse({
  code: 'rings',
  supplier: 'ash',
  form: 'pack',
  part: 'ring',
  packCount: 10,
  packPrice: gbp('2.50'),
  breaks: [
    { fromPacks: 5, packPrice: gbp('2.20') },
    { fromPacks: 20, packPrice: gbp('2.00') },
  ],
  seenOn: '2026-10-01',
});
const metre = Offer.parse({
  code: 'brown',
  supplier: 'ash',
  form: 'metre',
  part: 'wire-brown',
  pricePerMetre: gbp('0.40'),
  breaks: [{ fromMm: 50_000, pricePerMetre: gbp('0.30') }],
});
const packs = (count: number, packCount = 10): Bought => ({
  form: 'pack',
  packs: count,
  packCount,
  pieces: count * packCount,
  packPrice: gbp('2.50'),
});
const metres = (lengthMm: number): Bought => ({ form: 'metre', lengthMm, pricePerMetre: gbp('0.40') });
const said = { day: '2026-11-20', takenOff: undefined, paid: undefined };

describe('an offer gets the price that was charged', () => {
  test('for what came, seen on the day on which it came', () => {
    expect(withPaidPrice(pack, { ...said, bought: packs(2), came: 2, paid: gbp('5.40') })).toEqual({
      ...pack,
      packPrice: gbp('2.70'),
      seenOn: '2026-11-20',
    });
    // 3.90 for 7.5 m are 0.52 a metre.
    expect(
      withPaidPrice(metre, { ...said, bought: metres(9000), came: 7500, paid: gbp('3.90') }),
    ).toMatchObject({
      pricePerMetre: gbp('0.52'),
    });
  });

  test('at the price break by which it was ordered', () => {
    expect(withPaidPrice(pack, { ...said, bought: packs(6), came: 4, paid: gbp('8.40') })).toMatchObject({
      packPrice: gbp('2.50'),
      breaks: [
        { fromPacks: 5, packPrice: gbp('2.10') },
        { fromPacks: 20, packPrice: gbp('2.00') },
      ],
    });
    expect(
      withPaidPrice(metre, { ...said, bought: metres(60_000), came: 60_000, paid: gbp('21.00') }),
    ).toMatchObject({ pricePerMetre: gbp('0.40'), breaks: [{ pricePerMetre: gbp('0.35') }] });
  });

  test('with the tax that the supplier took off, and with as many decimals as an offer takes', () => {
    expect(
      withPaidPrice(pack, { ...said, bought: packs(1), came: 1, paid: gbp('3.00'), takenOff: 20 }),
    ).toMatchObject({ packPrice: gbp('3.60') });
    // A third of 10.00 is 3.33 recurring: four decimals beyond the penny.
    expect(withPaidPrice(pack, { ...said, bought: packs(3), came: 3, paid: gbp('10.00') })).toMatchObject({
      packPrice: gbp('3.333333'),
    });
  });

  test('and is only seen again where no other price was charged', () => {
    expect(withPaidPrice(pack, { ...said, bought: packs(2), came: 2 })).toEqual({
      ...pack,
      seenOn: '2026-11-20',
    });
  });
});

describe('an offer stays as it is', () => {
  test.each([
    ['sells another pack', { bought: packs(2, 25), came: 2 }, 'another pack'],
    ['has another form', { bought: metres(1000), came: 1000 }, 'another pack'],
    ['was seen later', { bought: packs(2), came: 2, day: '2026-09-30' }, 'seen later, on 2026-10-01'],
    [
      'has no price for what did not come',
      { bought: packs(2), came: 0, paid: gbp('1.00') },
      'nothing of the line',
    ],
  ])('where it %s', (_why, given, words) => {
    expect(withPaidPrice(pack, { ...said, ...given })).toContain(words);
  });
});
