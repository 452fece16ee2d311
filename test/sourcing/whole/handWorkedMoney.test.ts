import { describe, expect, it } from 'vitest';
import { answer, counted, eur, gbp, pack, shop } from './handWorked.ts';
import type { SupplierInput, Terms } from './jobOf.ts';

type LaneInput = NonNullable<Terms['lanes']>[number];

/** One clip from a supplier abroad, on a lane. */
function landed(
  price: string,
  lane: Partial<LaneInput>,
  supplier: Partial<SupplierInput> = {},
  more: Partial<Terms> = {},
): string {
  return answer(counted({ clip: 1 }), {
    suppliers: [shop('far', { country: 'FR', ...supplier })],
    offers: [pack('clip', 'far', price)],
    lanes: [{ code: 'in', from: 'FR', to: 'GB', ...lane }],
    ...more,
  });
}
const postage = (charge: string) => ({
  postage: { by: 'value' as const, bands: [{ fromValue: gbp('0'), charge: gbp(charge) }] },
});
const all = { dutyPercent: 2, taxPercent: 20 };

describe('the brute force of the whole: money', () => {
  it('charges duty on goods and postage, and tax on these and duty', () => {
    // A worked case of customs: 200 + 20, 2 % duty 4.40, 20 % of 224.40 is 44.88: 269.28.
    expect(landed('200', all, postage('20'))).toBe('0 unmet, 269.28');
    // Duty on the goods alone is 4.00, tax 20 % of 224: 268.80.
    expect(landed('200', { ...all, dutyOn: 'goods' }, postage('20'))).toBe('0 unmet, 268.8');
  });

  it('has handling in what is taxed', () => {
    // 200 + 20 + 5 = 225, duty 4.50, tax 45.90: 275.40.
    expect(landed('200', all, { ...postage('20'), handling: gbp('5') })).toBe('0 unmet, 275.4');
  });

  it('charges duty, tax and a fee only of a value over their thresholds, or at them where the lane says so', () => {
    const over = (amount: string, more = {}) => ({
      ...all,
      dutyOverValue: gbp(amount),
      taxOverValue: gbp('0'),
      ...more,
    });
    // Just there is free of duty: 220 + 44 = 264; charged: 269.28.
    expect(landed('200', over('200'), postage('20'))).toBe('0 unmet, 264');
    expect(landed('200', over('200', { exactlyThere: 'charged' }), postage('20'))).toBe('0 unmet, 269.28');
    // With postage the value is 220, over 200 and over 219.99, not over 220.
    const with20 = { valueIs: 'goodsAndPostage' };
    expect(landed('200', over('219.99', with20) as Partial<LaneInput>, postage('20'))).toBe(
      '0 unmet, 269.28',
    );
    expect(landed('200', over('220', with20) as Partial<LaneInput>, postage('20'))).toBe('0 unmet, 264');
    // 269.28 and a fee of 8; none of a value of just 200.
    const fee = { ...all, clearanceFee: gbp('8') };
    expect(landed('200', fee, postage('20'))).toBe('0 unmet, 277.28');
    expect(landed('200', { ...fee, clearanceOverValue: gbp('200') }, postage('20'))).toBe('0 unmet, 269.28');
  });

  it("takes the seller's tax off prices that hold it, postage too, before anything is added", () => {
    // 240 / 1.2 = 200, 24 / 1.2 = 20: as above.
    const lane = { ...all, sellerTaxPercent: 20 };
    expect(landed('240', lane, { ...postage('24'), pricesInclude: 'tax' })).toBe('0 unmet, 269.28');
    // Not from prices of which nothing is said or that hold none: 264 × 1.02 × 1.2 = 323.136.
    expect(landed('240', lane, postage('24'))).toBe('0 unmet, 323.136');
    expect(landed('240', lane, { ...postage('24'), pricesInclude: 'noTax' })).toBe('0 unmet, 323.136');
    // Nothing is added to prices that hold all.
    expect(landed('240', lane, { ...postage('24'), pricesInclude: 'taxAndDuty' })).toBe('0 unmet, 264');
    // Without end: 100 / 1.19 = 84.0336134453781…
    expect(landed('100', { sellerTaxPercent: 19 }, { pricesInclude: 'tax' })).toBe(
      '0 unmet, 84.033613445378',
    );
  });

  it('reads thresholds after the tax is taken off, the supplier’s own terms before', () => {
    const lane = { ...all, sellerTaxPercent: 20, dutyOverValue: gbp('200') };
    // 240 with tax is just 200: no duty, tax 20 % of 200: 240. A minimum order of 230 is reached.
    expect(landed('240', lane, { pricesInclude: 'tax', minimumOrder: gbp('230') })).toBe('0 unmet, 240');
    expect(landed('240', { ...lane, dutyOverValue: gbp('199.99') }, { pricesInclude: 'tax' })).toBe(
      '0 unmet, 244.8',
    );
  });

  it('adds tax at home to prices without it, postage and handling too, once per parcel', () => {
    // Three nets of 0.12: 0.36 × 1.2 = 0.432, unrounded.
    const offers = [pack('clip', 'north', '0.12')];
    const lanes = [{ code: 'home', from: 'GB', to: 'GB', taxPercent: 20 }];
    const home = (more: Partial<SupplierInput>) =>
      answer(counted({ clip: 3 }), { suppliers: [shop('north', { country: 'GB', ...more })], offers, lanes });
    expect(home({ pricesInclude: 'noTax' })).toBe('0 unmet, 0.432');
    // (0.36 + 1 + 0.50) × 1.2
    expect(home({ pricesInclude: 'noTax', ...postage('1'), handling: gbp('0.50') })).toBe('0 unmet, 2.232');
    expect(home({ pricesInclude: 'tax' })).toBe('0 unmet, 0.36');
    expect(home({})).toBe('0 unmet, 0.36');
  });

  it('adds nothing where a country or the lane is not known', () => {
    expect(landed('200', all, { country: 'DE' })).toBe('0 unmet, 200');
    expect(answer(counted({ clip: 1 }), { offers: [pack('clip', 'north', '3')] })).toBe('0 unmet, 3');
  });

  it('changes currencies at the latest rate up to the day, and refuses one without', () => {
    const rate = (on: string, rate: string) => ({ code: `eur-${on}`, currency: 'EUR', on, rate });
    const inEuro = (...rates: NonNullable<Terms['rates']>) =>
      answer(counted({ clip: 2 }), {
        suppliers: [shop('far', { currency: 'EUR' })],
        offers: [pack('clip', 'far', eur('10'))],
        rates,
      });
    expect(inEuro(rate('2026-11-30', '0.8512'), rate('2026-10-01', '0.9'))).toBe('0 unmet, 17.024');
    expect(inEuro(rate('2026-12-01', '0.8512'), rate('2026-10-01', '0.9'))).toBe('0 unmet, 18');
    expect(inEuro(rate('2026-12-01', '0.8512'))).toBe('1 unmet, 0');
  });

  it('changes the thresholds and fees of a lane too, from any currency', () => {
    // 100 EUR at 0.85 are 85 GBP: a parcel of just 85 is free, 85.01 pays 10 % duty and a fee of 20 EUR, 17 GBP.
    const rates = [{ code: 'eur', currency: 'EUR', on: '2026-11-01', rate: '0.85' }];
    const lane = {
      dutyPercent: 10,
      dutyOverValue: eur('100'),
      clearanceFee: eur('20'),
      clearanceOverValue: eur('100'),
    };
    expect(landed('85', lane, {}, { rates })).toBe('0 unmet, 85');
    expect(landed('85.01', lane, {}, { rates })).toBe('0 unmet, 110.511');
  });

  it('chooses a free threshold of postage by value, or not', () => {
    const bands = [
      { fromValue: gbp('0'), charge: gbp('3') },
      { fromValue: gbp('5'), charge: gbp('0') },
    ];
    const buy = (many: number) =>
      answer(counted({ clip: many }), {
        suppliers: [shop('north', { postage: { by: 'value', bands } })],
        offers: [pack('clip', 'north', '1')],
      });
    expect(buy(1)).toBe('0 unmet, 4');
    expect(buy(3)).toBe('0 unmet, 5');
  });

  it('counts a nuisance for every parcel, untaxed', () => {
    const offers = [pack('clip', 'north', '1'), pack('plug', 'south', '1'), pack('plug', 'north', '1.50')];
    const request = { parcelNuisance: gbp('0.60') };
    expect(answer(counted({ clip: 1, plug: 1 }), { offers })).toBe('0 unmet, 2');
    // Two parcels cost 3.20, one 3.10.
    expect(answer(counted({ clip: 1, plug: 1 }), { offers, request })).toBe('0 unmet, 3.1');
    expect(landed('200', all, postage('20'), { request })).toBe('0 unmet, 269.88');
  });
});
