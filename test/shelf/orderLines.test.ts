import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ReceiptIn } from '../../worker/engine/model/order.ts';
import { costLines } from '../../worker/engine/model/orderCost.ts';
import { lineStates, receiptFaults, stateAfter } from '../../worker/engine/model/orderLines.ts';
import { goodsOf, shelvedOf } from '../../worker/engine/model/orderGoods.ts';
import type { Bought } from '../../worker/engine/model/bought.ts';

const gbp = (amount: string) => ({ amount, currency: 'GBP' });
const packs: Bought = { form: 'pack', packs: 7, packCount: 10, pieces: 70, packPrice: gbp('1.43') };
const metre: Bought = { form: 'metre', lengthMm: 5000, pricePerMetre: gbp('0.38') };
const lines = [
  { line: 1, bought: packs, cost: gbp('10.00') },
  { line: 2, bought: metre, cost: gbp('1.90') },
];
const receipt = (...of: object[]) => ReceiptIn.parse({ lines: of });

const purchase = (requirement: string, bought: Bought) => ({
  requirement,
  offer: requirement,
  supplier: 'shop',
  part: `part-of-${requirement}`,
  bought,
  exactCost: gbp('1.00'),
  cost: gbp('1.00'),
  postageShare: gbp('0.00'),
  delivered: gbp('1.00'),
});

describe('the lines of an order', () => {
  test('wait for what has not come, also for what is faulty or wrong', () => {
    const came = [receipt({ line: 1, arrived: 3, faulty: 2, wrong: 1 }, { line: 2, lengthsMm: [3000] })];
    expect(lineStates(lines, came)).toEqual([
      {
        line: 1,
        unit: 'pack',
        ordered: 7,
        arrived: 3,
        faulty: 2,
        wrong: 1,
        backOrdered: 0,
        notComing: 0,
        returned: { right: 0, faulty: 0, wrong: 0 },
        outstanding: 4,
      },
      {
        line: 2,
        unit: 'mm',
        ordered: 5000,
        arrived: 3000,
        faulty: 0,
        wrong: 0,
        backOrdered: 0,
        notComing: 0,
        returned: { right: 0, faulty: 0, wrong: 0 },
        outstanding: 2000,
      },
    ]);
    expect(stateAfter(lineStates(lines, came))).toBe('partReceived');
  });

  test('are received where nothing is still to come, also where the supplier sends no more', () => {
    const came = [receipt({ line: 1, arrived: 5, notComing: 2 }, { line: 2, lengthsMm: [3000, 2000] })];
    expect(stateAfter(lineStates(lines, came))).toBe('received');
    expect(stateAfter(lineStates(lines, []))).toBe('sent');
  });

  test.each([
    ['a line that is not there', { line: 3, arrived: 1 }, 'unknown-line'],
    ['more than was ordered', { line: 1, arrived: 8 }, 'more-than-ordered'],
    ['more than is still to come', { line: 1, arrived: 4, notComing: 4 }, 'more-than-ordered'],
    ['a longer piece than was ordered', { line: 2, lengthsMm: [5001] }, 'more-than-ordered'],
    ['a count of what is bought by the metre', { line: 2, arrived: 1 }, 'by-the-metre'],
    ['lengths of what is bought in packs', { line: 1, lengthsMm: [100] }, 'not-by-the-metre'],
    ['nothing', { line: 1 }, 'nothing-said'],
    [
      'another currency',
      { line: 1, arrived: 1, paid: { amount: '1.00', currency: 'EUR' } },
      'other-currency',
    ],
  ])('take no delivery of %s', (_what, line, code) => {
    const faults = receiptFaults(lineStates(lines, []), receipt(line), 'GBP');
    expect(faults.map((fault) => fault.code)).toEqual([code]);
  });

  test('take each line once in a delivery', () => {
    const faults = receiptFaults(
      lineStates(lines, []),
      receipt({ line: 1, arrived: 1 }, { line: 1, arrived: 1 }),
      'GBP',
    );
    expect(faults).toMatchObject([{ code: 'line-twice', at: '/lines/1/line' }]);
  });

  test('take more where it is said that more came', () => {
    expect(receiptFaults(lineStates(lines, []), receipt({ line: 1, arrived: 9, over: true }), 'GBP')).toEqual(
      [],
    );
  });
});

describe('what a line cost', () => {
  test('is its printed cost to the penny, however it is split over deliveries', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 40 }),
        fc.integer({ min: 0, max: 99_999 }),
        fc.array(fc.integer({ min: 1, max: 9 })),
        (ordered, pence, parts) => {
          const cost = gbp((pence / 100).toFixed(2));
          const bought = { ...packs, packs: ordered };
          let left = ordered;
          const came = [...parts, ordered].flatMap((wish) => {
            const arrived = Math.min(wish, left);
            left -= arrived;
            return arrived === 0 ? [] : [receipt({ line: 1, arrived })];
          });
          expect(costLines([{ line: 1, bought, cost }], came)).toEqual([
            { line: 1, quoted: cost, expected: cost, paid: cost, difference: gbp('0.00') },
          ]);
        },
      ),
    );
  });

  test('is what was charged where that is said, against the price of what came', () => {
    // By hand: 3 of 7 packs of 10.00 are 4.2857, so 4.29; 5 of them 7.1429, so 7.14, the last two 2.85. Charged were 4.50 and 2.85.
    const came = [receipt({ line: 1, arrived: 3, paid: gbp('4.50') }), receipt({ line: 1, arrived: 2 })];
    expect(costLines(lines.slice(0, 1), came)).toEqual([
      { line: 1, quoted: gbp('10.00'), expected: gbp('7.14'), paid: gbp('7.35'), difference: gbp('0.21') },
    ]);
  });

  test('is less where less is charged, and is in the currency in which the supplier is paid', () => {
    const eur = { amount: '12.00', currency: 'EUR' };
    const came = [receipt({ line: 1, arrived: 7, paid: { amount: '11.40', currency: 'EUR' } })];
    expect(costLines([{ line: 1, bought: packs, cost: gbp('10.00'), theirCost: eur }], came)).toMatchObject([
      { quoted: eur, difference: { amount: '-0.60', currency: 'EUR' } },
    ]);
  });

  test('has nothing for what came over the order and has no price', () => {
    const came = [receipt({ line: 1, arrived: 9, over: true })];
    expect(costLines(lines.slice(0, 1), came)).toMatchObject([{ paid: gbp('10.00') }]);
  });
});

test('what comes goes on the shelf as pieces, as lengths of their kind, and by the metre as the lengths that came', () => {
  const kit: Bought = {
    form: 'kit',
    packs: 2,
    contents: [
      { part: 'bullet', quantity: 10 },
      { part: 'joiner', quantity: 5 },
    ],
    packPrice: gbp('1.00'),
  };
  const hanks: Bought = { form: 'length', packs: 3, nominalMm: 5000, usableMm: 4900, packPrice: gbp('2.00') };
  const bought = { a: packs, b: metre, c: kit, d: hanks };
  const list = {
    supplier: 'shop',
    lines: Object.entries(bought).map(([name, of], at) => ({
      line: at + 1,
      requirement: name,
      offer: name,
      description: name,
      bought: of,
      oneContinuousLength: false,
      condition: 'new' as const,
      cost: gbp('1.00'),
    })),
  };
  const goods = goodsOf(list, {
    purchases: Object.entries(bought).map(([name, of]) => purchase(name, of)),
    leftovers: [],
    cuttingPlans: [],
  });
  const came = (at: number, line: object) =>
    shelvedOf(goods[at]!, receipt({ line: at + 1, ...line }).lines[0]!, 0).map(
      ({ needed: _needed, ...shelved }) => shelved,
    );
  expect(came(0, { arrived: 3 })).toEqual([{ part: 'part-of-a', form: 'pieces', count: 30 }]);
  expect(came(1, { lengthsMm: [3000, 2000, 2000] })).toEqual([
    { part: 'part-of-b', form: 'length', lengthMm: 3000, count: 1 },
    { part: 'part-of-b', form: 'length', lengthMm: 2000, count: 2 },
  ]);
  expect(came(2, { arrived: 2 })).toEqual([
    { part: 'bullet', form: 'pieces', count: 20 },
    { part: 'joiner', form: 'pieces', count: 10 },
  ]);
  expect(came(3, { arrived: 1, faulty: 2 })).toEqual([
    { part: 'part-of-d', form: 'length', lengthMm: 4900, count: 1 },
  ]);
});

describe('of what comes on a line', () => {
  const packs: Bought = { form: 'pack', packs: 3, packCount: 10, pieces: 30, packPrice: gbp('1.00') };
  const kit: Bought = {
    form: 'kit',
    packs: 2,
    contents: [
      { part: 'part-of-k', quantity: 10 },
      { part: 'joiner', quantity: 5 },
    ],
    packPrice: gbp('1.00'),
  };
  const hanks: Bought = { form: 'length', packs: 3, nominalMm: 5000, usableMm: 4900, packPrice: gbp('2.00') };
  const lineFor = (name: string, bought: Bought) => ({
    line: 1,
    requirement: name,
    offer: name,
    description: name,
    bought,
    oneContinuousLength: false,
    condition: 'new' as const,
    cost: gbp('1.00'),
  });
  const neededOf = (name: string, bought: Bought, result: object, cameBefore: number, line: object) => {
    const [goods] = goodsOf(
      { supplier: 'shop', lines: [lineFor(name, bought)] },
      { purchases: [purchase(name, bought)], leftovers: [], cuttingPlans: [], ...result },
    );
    return shelvedOf(goods!, receipt({ line: 1, ...line }).lines[0]!, cameBefore).map(({ needed }) => needed);
  };

  test('so many pieces are needed as the quote says are not left over, the first that come first', () => {
    // 30 are bought, 7 are left over: 23 are needed.
    const left = {
      leftovers: [{ requirement: 'a', label: 'a', surplus: { quantity: 7, value: gbp('0.70') } }],
    };
    expect(neededOf('a', packs, left, 0, { arrived: 1 })).toEqual([10]);
    expect(neededOf('a', packs, left, 1, { arrived: 2 })).toEqual([13]);
    expect(neededOf('a', packs, left, 3, { arrived: 1, over: true })).toEqual([0]);
  });

  test('what is in a kit and serves no need is not needed', () => {
    const left = {
      leftovers: [
        { requirement: 'part:joiner', label: 'joiner', surplus: { quantity: 10, value: gbp('0.70') } },
        { requirement: 'k', label: 'k', surplus: { quantity: 4, value: gbp('0.20') } },
      ],
    };
    expect(neededOf('k', kit, left, 0, { arrived: 2 })).toEqual([16, 0]);
  });

  test('the lengths are needed that are cut, and all of what is bought by the metre', () => {
    const cut = (lengths: number, pieces: object[]) => ({
      offer: 'd',
      lengths,
      usableMm: 4900,
      pieces,
      offcutMm: 0,
    });
    const plan = {
      cuttingPlans: [
        {
          requirement: 'd',
          exact: true,
          lengths: [cut(1, [{ cutMm: 4000, count: 1 }]), cut(1, [{ cutMm: 300, count: 9 }]), cut(1, [])],
        },
      ],
    };
    expect(neededOf('d', hanks, plan, 0, { arrived: 3 })).toEqual([2]);
    expect(neededOf('d', hanks, plan, 2, { arrived: 1 })).toEqual([0]);
    const metre: Bought = { form: 'metre', lengthMm: 7000, pricePerMetre: gbp('1.00') };
    expect(neededOf('m', metre, {}, 0, { lengthsMm: [3000, 2000, 2000] })).toEqual([1, 2]);
  });
});
