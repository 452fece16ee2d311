import { gbp } from './fixtures.ts';

/** Rates, lanes and stock of a club in pounds that has the parts of the small catalogue; invented. */
export const rates = [
  { code: 'eur-nov', currency: 'EUR', on: '2026-11-02', rate: '0.8512' },
  { code: 'usd-nov', currency: 'USD', on: '2026-11-02', rate: '0.76' },
];
export const lanes = [
  {
    code: 'de-gb',
    from: 'DE',
    to: 'GB',
    taxPercent: 20,
    taxOverValue: gbp('135.00'),
    dutyPercent: 2.5,
    dutyOverValue: gbp('135.00'),
    dutyOn: 'goods' as const,
    clearanceFee: gbp('8.00'),
    clearanceOverValue: gbp('0.00'),
    valueIs: 'goodsAndPostage' as const,
    exactlyThere: 'charged' as const,
    sellerTaxPercent: 19,
    seenOn: '2026-11-01',
    note: 'As told on the telephone.',
  },
  { code: 'gb', from: 'GB', to: 'GB', taxPercent: 20 },
];
export const stock = [
  { code: 'reds', form: 'length' as const, part: 'wire-red', count: 2, lengthMm: 900 },
  { code: 'rings', form: 'pieces' as const, part: 'ring-6', count: 3 },
];
