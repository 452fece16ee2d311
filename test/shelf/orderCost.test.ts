import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Bought } from '../../worker/engine/model/bought.ts';
import { ReceiptIn } from '../../worker/engine/model/order.ts';
import { costOf, minorOf, paidToSupplier } from '../../worker/engine/model/orderCost.ts';
import type { OrderEntry } from '../../worker/engine/model/orderEntry.ts';
import type { OrderList } from '../../worker/engine/model/result.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });
const eur = (amount: string) => ({ amount, currency: 'EUR' });
const packs = (count: number): Bought => ({
  form: 'pack',
  packs: count,
  packCount: 10,
  pieces: 10 * count,
  packPrice: gbp('1.00'),
});
const line = (number: number, bought: Bought, cost: string, theirCost?: string) => ({
  line: number,
  requirement: `r${number}`,
  offer: `o${number}`,
  description: 'rings',
  bought,
  oneContinuousLength: false,
  condition: 'new' as const,
  cost: gbp(cost),
  ...(theirCost === undefined ? {} : { theirCost: eur(theirCost) }),
});
/** 4 packs at 2.50 and 2 at 3.10, with 20 % tax on all and a penny of rounding. */
const home: OrderList = {
  supplier: 'ash',
  name: 'Ash Lane',
  lines: [line(1, packs(4), '10.00'), line(2, packs(2), '6.20')],
  goods: gbp('16.20'),
  postage: gbp('3.90'),
  handling: gbp('0.00'),
  tax: gbp('4.02'),
  rounding: gbp('0.01'),
  total: gbp('24.13'),
};
/** 100.00 EUR of goods with 10.00 EUR postage at 0.85; duty 3 %, import tax, a carrier’s fee. */
const abroad: OrderList = {
  supplier: 'birke',
  name: 'Birke',
  lines: [line(1, packs(4), '85.00', '100.00')],
  goods: gbp('85.00'),
  postage: gbp('8.50'),
  handling: gbp('0.00'),
  duty: gbp('2.55'),
  importTax: gbp('19.21'),
  clearance: gbp('12.00'),
  theirs: {
    currency: 'EUR',
    rate: '0.85',
    on: '2026-11-02',
    goods: eur('100.00'),
    postage: eur('10.00'),
    handling: eur('0.00'),
  },
  rounding: gbp('0.00'),
  total: gbp('127.26'),
};
const came = (...lines: object[]) => [ReceiptIn.parse({ lines })];
const charges = (said: object): OrderEntry => ({ kind: 'charges', ...said });
const refund = (amount: ReturnType<typeof gbp>, fee?: ReturnType<typeof gbp>): OrderEntry => ({
  kind: 'refund',
  refund: amount,
  day: '2026-11-20',
  ...(fee ? { fee } : {}),
});
const whole = came({ line: 1, arrived: 4 }, { line: 2, arrived: 2 });
const paidOf = (of: ReturnType<typeof costOf>) =>
  Object.fromEntries(of.items.map(({ kind, paid }) => [kind, paid.amount]));

describe('the cost of an order', () => {
  test('is what the quote said, to the penny, where all came and nothing else is stated', () => {
    expect(costOf(home, whole, [], false)).toMatchObject({
      quoted: gbp('24.13'),
      paid: gbp('24.13'),
      difference: gbp('0.00'),
    });
    expect(costOf(abroad, came({ line: 1, arrived: 4 }), [], false)).toMatchObject({
      paid: gbp('127.26'),
      difference: gbp('0.00'),
    });
  });

  test('has the goods that came, their share of the tax, and all of the postage', () => {
    // By hand: 3 of 4 packs are 7.50 and both others 6.20: 13.70. The tax is 4.02 × 13.70 ÷ 16.20 = 3.3996, so 3.40.
    const cost = costOf(home, came({ line: 1, arrived: 3 }, { line: 2, arrived: 2 }), [], false);
    expect(paidOf(cost)).toEqual({
      goods: '13.70',
      postage: '3.90',
      handling: '0.00',
      tax: '3.40',
      rounding: '0.00',
    });
    expect(cost.paid).toEqual(gbp('21.00'));
  });

  test('has the charges that were stated, the last of each', () => {
    const entries = [charges({ postage: gbp('4.50'), tax: gbp('5.00') }), charges({ tax: gbp('4.14') })];
    // 16.20 + 4.50 + 4.14 + 0.01 of rounding.
    expect(costOf(home, whole, entries, false)).toMatchObject({
      paid: gbp('24.85'),
      difference: gbp('0.72'),
    });
  });

  test('is in the club’s currency, at the rate of the bank where that is stated', () => {
    const receipts = came({ line: 1, arrived: 4, paid: eur('104.00') });
    // By hand at 0.85: 4.00 EUR more are 3.40.
    expect(paidOf(costOf(abroad, receipts, [], false))).toMatchObject({ goods: '88.40', postage: '8.50' });
    // At 0.88: goods 104.00 × 0.88 = 91.52, postage 12.00 × 0.88 = 10.56, and 20.00 of import tax as charged.
    const bank = [charges({ rate: '0.88', postage: eur('12.00'), importTax: gbp('20.00') })];
    const cost = costOf(abroad, receipts, bank, false);
    expect(paidOf(cost)).toEqual({
      goods: '91.52',
      postage: '10.56',
      handling: '0.00',
      duty: '2.55',
      importTax: '20.00',
      clearance: '12.00',
    });
    expect(cost.paid).toEqual(gbp('136.63'));
  });

  test('is less by what was refunded, and more by what it costs to send goods back; the fee is told', () => {
    const entries: OrderEntry[] = [
      {
        kind: 'return',
        line: 1,
        what: 'right',
        count: 1,
        amount: 1,
        day: '2026-11-20',
        postage: gbp('2.80'),
      },
      refund(gbp('2.00'), gbp('0.50')),
    ];
    const cost = costOf(home, whole, entries, false);
    expect(paidOf(cost)).toMatchObject({ refunds: '-2.00', returnPostage: '2.80' });
    expect([cost.paid, cost.restockingFees]).toEqual([gbp('24.93'), gbp('0.50')]);
  });

  test('of an order that was cancelled is what is stated alone', () => {
    expect(costOf(home, [], [], true).paid).toEqual(gbp('0.00'));
  });

  test('leaves the tax out that the supplier takes off', () => {
    const untaxed: OrderList = {
      ...abroad,
      lines: [line(1, packs(4), '85.00', '119.00')],
      theirs: { ...abroad.theirs!, goods: eur('119.00'), taxTakenOffPercent: 19 },
    };
    const cost = costOf(untaxed, came({ line: 1, arrived: 4 }), [], false);
    expect(cost.lines).toMatchObject([{ quoted: eur('100.00'), paid: eur('100.00') }]);
    expect(cost.paid).toEqual(gbp('127.26'));
  });

  test('is the sum of its items, whatever came at whatever price', () => {
    const amount = fc.integer({ min: 0, max: 5000 }).map((minor) => gbp((minor / 100).toFixed(2)));
    const lineOf = (number: number) =>
      fc
        .record({ line: fc.constant(number), arrived: fc.integer({ min: 0, max: 4 }) })
        .chain((said) =>
          fc.option(amount, { nil: undefined }).map((paid) => (paid ? { ...said, paid } : said)),
        );
    const entry = fc.oneof(
      fc.record({ postage: amount }).map(charges),
      fc.record({ tax: amount, duty: amount }).map(charges),
      amount.map((each) => refund(each)),
    );
    fc.assert(
      fc.property(lineOf(1), lineOf(2), fc.array(entry, { maxLength: 4 }), (one, two, entries) => {
        const cost = costOf(home, came({ ...one, over: true }, { ...two, over: true }), entries, false);
        const sum = cost.items.reduce((all, { paid }) => all + minorOf(paid), 0n);
        expect(minorOf(cost.paid)).toBe(sum);
        expect(minorOf(cost.difference)).toBe(sum - minorOf(cost.quoted));
        const lines = cost.lines.reduce((all, { paid }) => all + minorOf(paid), 0n);
        expect(minorOf(cost.items[0]!.paid)).toBe(lines);
      }),
      { numRuns: 500 },
    );
  });

  test('bounds what can be refunded: the goods as ordered or as charged, with what else was charged', () => {
    expect(paidToSupplier(home, [], [])).toBe(2412n);
    expect(paidToSupplier(home, came({ line: 1, arrived: 4, paid: gbp('11.00') }), [])).toBe(2512n);
    expect(paidToSupplier(abroad, [], [charges({ postage: eur('12.00') })])).toBe(11200n);
  });
});
