import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import type { Result } from '../../worker/engine/model/result.ts';
import { consumable, jobOf, pack, priced, supplier } from '../engine/fixtures.ts';

type LaneInput = Partial<NonNullable<JobInput['lanes']>[number]>;
type SupplierInput = JobInput['suppliers'][number];

const money = (amount: string, currency: string) => ({ amount, currency });

interface Parcel {
  currency: string;
  /** Prices of single pieces, one of each bought. */
  goods: string[];
  postage?: string;
  supplier?: Partial<SupplierInput>;
  from?: string;
  lane: LaneInput;
}

/** One parcel to a buyer in AA. */
function landed({ currency, goods, postage, supplier: given, from = 'BB', lane }: Parcel): Promise<Result> {
  const parts = goods.map((_, index) => `part-${index}`);
  return priced(
    jobOf({
      club: { currency, country: 'AA' },
      parts: parts.map(consumable),
      suppliers: [
        {
          ...supplier('s'),
          currency,
          country: from,
          ...(postage === undefined
            ? {}
            : {
                postage: {
                  by: 'value',
                  bands: [{ fromValue: money('0', currency), charge: money(postage, currency) }],
                },
              }),
          ...given,
        },
      ],
      offers: goods.map((price, index) => ({
        ...pack(`o-${index}`, 's', `part-${index}`, 1, '1'),
        packPrice: money(price, currency),
      })),
      lanes: [{ code: 'lane', from, to: 'AA', ...lane }],
      loom: { parts: parts.map((part) => ({ part, quantity: 1 })) },
    }),
  );
}

/** The amounts of the one order list. */
function sums(result: Result) {
  const [list] = result.orderLists;
  return {
    goods: list?.goods.amount,
    postage: list?.postage.amount,
    tax: list?.tax?.amount,
    duty: list?.duty?.amount,
    importTax: list?.importTax?.amount,
    clearance: list?.clearance?.amount,
    total: list?.total.amount,
  };
}

describe('landed cost', () => {
  // Tax on goods, transport and duty together: HMRC, as quoted; the figures are worked from that rule.
  test('is goods and postage, duty on both, and tax on all of it', async () => {
    const result = await landed({
      currency: 'GBP',
      goods: ['200'],
      postage: '20',
      lane: { dutyPercent: 2, taxPercent: 20 },
    });
    expect(sums(result)).toMatchObject({
      goods: '200.00',
      postage: '20.00',
      duty: '4.40',
      importTax: '44.88',
      total: '269.28',
    });
    expect(result.proof).toMatchObject({ status: 'proven', cost: { amount: '269.28' } });
  });

  // Irish Revenue (revenue.ie): duty of 2.5 % on 600 is 15; tax of 23 % on 500 + 600 + 15 is 256.45; 271.45 in all.
  test('takes duty on the goods alone where that is the rule, and tax on what bears no duty too', async () => {
    const result = await landed({
      currency: 'EUR',
      goods: ['600'],
      postage: '500',
      lane: { dutyPercent: 2.5, dutyOn: 'goods', taxPercent: 23 },
    });
    expect(sums(result)).toMatchObject({ duty: '15.00', importTax: '256.45' });
    expect(Number(result.costs.total.amount) - 1100).toBeCloseTo(271.45, 10);
  });

  // gov.uk: up to and with 135 a consignment, by the value of the goods without transport, no duty at the border.
  // zoll.de: not more than 150. revenue.ie: less than 150.
  test.each([
    ['GBP', '135', 'free', '135', undefined],
    ['GBP', '135', 'free', '135.01', '2.70'],
    ['EUR', '150', 'free', '150', undefined],
    ['EUR', '150', 'charged', '150', '3.00'],
    ['EUR', '150', 'charged', '149.99', undefined],
  ] as const)(
    'is free of duty to a threshold: %s %s (%s there), goods %s',
    async (currency, at, exactlyThere, goods, duty) => {
      const result = await landed({
        currency,
        goods: [goods],
        postage: '40',
        lane: { dutyPercent: 2, dutyOn: 'goods', dutyOverValue: money(at, currency), exactlyThere },
      });
      expect(sums(result).duty).toBe(duty);
    },
  );

  test('is split over two suppliers where one parcel would pass the threshold', async () => {
    // Two pieces of 100 from one shop pass 135: duty 10 % of 200 and a fee of 12 is 32. Two shops pay postage twice: 5 more.
    const shops = ['s', 't'];
    const result = await priced(
      jobOf({
        club: { currency: 'GBP', country: 'AA' },
        parts: ['x', 'y'].map(consumable),
        suppliers: shops.map((code) => ({ ...supplier(code, ['0', '5']), country: 'BB' })),
        offers: shops.flatMap((code) =>
          ['x', 'y'].map((part) => pack(`${code}-${part}`, code, part, 1, '100')),
        ),
        lanes: [
          {
            code: 'l',
            from: 'BB',
            to: 'AA',
            dutyPercent: 10,
            dutyOn: 'goods',
            dutyOverValue: money('135', 'GBP'),
            clearanceFee: money('12', 'GBP'),
            clearanceOverValue: money('135', 'GBP'),
          },
        ],
        loom: { parts: ['x', 'y'].map((part) => ({ part, quantity: 1 })) },
      }),
    );
    expect(result.orderLists).toHaveLength(2);
    expect(result.costs.total.amount).toBe('210.00');
  });

  test('of prices that hold the seller’s tax is without it: 119 with 19 % is 100', async () => {
    const result = await landed({
      currency: 'EUR',
      goods: ['119'],
      postage: '11.90',
      supplier: { pricesInclude: 'tax' },
      lane: { sellerTaxPercent: 19, taxPercent: 20 },
    });
    expect(sums(result)).toMatchObject({
      goods: '100.00',
      postage: '10.00',
      importTax: '22.00',
      total: '132.00',
    });
  });
});

describe('tax of one’s own country', () => {
  // HMRC VATREC12010 allows either; one line an invoice is what we print. Figures worked by hand.
  test.each([
    ['0.12', '0.07', '0.43'],
    ['1.12', '0.67', '4.03'],
  ])('is one line an invoice: three nets of %s at 20 %% bear %s', async (net, tax, total) => {
    const result = await landed({
      currency: 'GBP',
      goods: [net, net, net],
      from: 'AA',
      supplier: { pricesInclude: 'noTax' },
      lane: { taxPercent: 20 },
    });
    expect(sums(result)).toMatchObject({ tax, total });
  });

  test('rounds half up: 20 % of 11.725 is 2.345, which is 2.35', async () => {
    const result = await landed({
      currency: 'GBP',
      goods: ['11.725'],
      from: 'AA',
      supplier: { pricesInclude: 'noTax' },
      lane: { taxPercent: 20 },
    });
    expect(sums(result).tax).toBe('2.35');
    // 11.73 + 2.35 is a penny over 14.07: the penny stands on a line of its own.
    expect(result.orderLists[0]?.rounding.amount).toBe('-0.01');
  });
});

describe('rates of exchange', () => {
  const rates = [
    { code: 'old', currency: 'JPY', on: '2026-01-05', rate: '0.004' },
    { code: 'new', currency: 'JPY', on: '2026-02-20', rate: '0.0052' },
    { code: 'later', currency: 'JPY', on: '2026-03-03', rate: '0.1' },
  ];
  const yen = (amount: string) => money(amount, 'JPY');
  const job = (given: Partial<JobInput> = {}) =>
    jobOf({
      parts: [consumable('tie')],
      suppliers: [
        {
          ...supplier('s'),
          currency: 'JPY',
          postage: { by: 'value', bands: [{ fromValue: yen('0'), charge: yen('800') }] },
        },
      ],
      offers: [{ form: 'pack', code: 'o', supplier: 's', part: 'tie', packCount: 1, packPrice: yen('1500') }],
      rates,
      loom: { parts: [{ part: 'tie', quantity: 2 }] },
      ...given,
    });

  test('lead from a currency without a minor unit to the club’s: the last one that is not of a later day', async () => {
    // Two at 1500 and postage 800 are 3800 yen: at 0.0052, 19.76.
    const result = await priced(job());
    expect(result.costs.total.amount).toBe('19.76');
    expect(result.orderLists[0]?.theirs).toMatchObject({
      currency: 'JPY',
      rate: '0.0052',
      on: '2026-02-20',
      goods: { amount: '3000' },
      postage: { amount: '800' },
    });
    expect(result.rates).toEqual([{ currency: 'JPY', rate: '0.0052', on: '2026-02-20' }]);
  });

  test('that are older than the setting are warned of', async () => {
    const result = await priced(job({ rates: rates.slice(0, 1) }));
    expect(result.findings).toMatchObject([{ code: 'rate-may-be-old', at: '/rates/0' }]);
  });

  test('that are all of a later day are none: the supplier is left out, and said so', async () => {
    const result = await priced(job({ rates: rates.slice(2) }));
    expect(result.findings).toMatchObject([
      {
        code: 'currency-without-rate',
        where: 'supplier s',
        found: expect.stringContaining('JPY') as unknown,
      },
      { code: 'unsourced', at: '/parts/0' },
    ]);
    expect(result.unsourced).toHaveLength(1);
  });
});
