import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../worker/engine/model/job.ts';
import {
  bought,
  byTheMetre,
  gbp,
  jobOf,
  needing,
  pack,
  points,
  priced,
  supplier,
  terminal,
  wire,
  wirePart,
} from './fixtures.ts';

type OfferInput = JobInput['offers'][number];
type SupplierInput = JobInput['suppliers'][number];

const exactCuts = { slackPercent: 0, stripMm: 0, redoMm: 0 };
/** One red wire of so many millimetres. */
function needingWire(mm: number, suppliers: SupplierInput[], offers: OfferInput[]) {
  return jobOf({
    parts: [wirePart('red'), wirePart('red-too')],
    suppliers,
    offers,
    loom: {
      points: points('A', 'B'),
      settings: exactCuts,
      wires: [wire('1', { length: { mm, basis: 'route' } })],
    },
  });
}

// Internet shopping problem: Błażewicz et al., AMCS 20(2) 2010, 385–390. The instance stands in the public repository
// modeling-simulation-and-optimization/project (MIT); its optimum was confirmed by full enumeration.
test('one of each of five things from six shops, each with its delivery, costs 189 from shops 1 and 4', async () => {
  const prices: Record<string, number[]> = {
    A: [18, 24, 22, 28, 24, 27],
    B: [39, 45, 45, 47, 42, 48],
    C: [29, 23, 23, 17, 24, 20],
    D: [48, 54, 53, 57, 47, 55],
    E: [59, 44, 53, 47, 59, 53],
  };
  const delivery = [10, 15, 15, 10, 10, 15];
  const result = await priced(
    needing(
      Object.fromEntries(Object.keys(prices).map((thing) => [thing, 1])),
      delivery.map((charge, index) => supplier(`shop${index + 1}`, ['0', `${charge}`])),
      Object.entries(prices).flatMap(([thing, row]) =>
        row.map((price, index) => pack(`${thing}${index + 1}`, `shop${index + 1}`, thing, 1, `${price}`)),
      ),
    ),
  );
  expect(result.costs.total.amount).toBe('189.00');
  expect(result.orderLists.map((list) => list.supplier)).toEqual(['shop1', 'shop4']);
  expect(result.proof).toMatchObject({ status: 'proven', cost: gbp('189.00'), bound: gbp('189.00') });
  // Best single shop 203, by full enumeration beside the same instance.
  expect(result.comparisons).toMatchObject([
    { kind: 'cheapestSinglePrices', total: gbp('210.00'), saving: gbp('21.00') },
    { kind: 'oneShop', total: gbp('203.00'), saving: gbp('14.00'), unsourced: 0 },
  ]);
});

describe('packs', () => {
  test('are mixed where that is cheapest', async () => {
    // 23: 2 × 10 and 3 × 1 = 2 × 5 + 3 × 0.70 = 12.10; 3 × 10 = 15; 23 × 1 = 16.10.
    const result = await priced(
      needing(
        { tie: 23 },
        [supplier('s')],
        [pack('ten', 's', 'tie', 10, '5'), pack('one', 's', 'tie', 1, '0.70')],
      ),
    );
    expect(bought(result)).toEqual({ ten: 2, one: 3 });
  });

  test('are bought in their minimum number or not at all', async () => {
    // 3 needed: 5 × 0.20 = 1.00 beats 3 × 0.40 = 1.20.
    const offers = (price: string) => [
      pack('min', 's', 'tie', 1, price, { minimumPacks: 5 }),
      pack('any', 's', 'tie', 1, '0.40'),
    ];
    expect(bought(await priced(needing({ tie: 3 }, [supplier('s')], offers('0.20'))))).toEqual({ min: 5 });
    expect(bought(await priced(needing({ tie: 3 }, [supplier('s')], offers('0.25'))))).toEqual({ any: 3 });
  });

  test('of free goods are still sent for, at the first band’s postage', async () => {
    const result = await priced(
      needing(
        { tie: 2 },
        [supplier('gift', ['0', '3'], ['10', '0']), supplier('shop')],
        [pack('free', 'gift', 'tie', 1, '0'), pack('paid', 'shop', 'tie', 1, '1')],
      ),
    );
    expect(bought(result)).toEqual({ paid: 2 });
  });
});

describe('wire', () => {
  test('is one continuous length from one offer, up to its step and minimum', async () => {
    // 2.3 m: 0.5 m steps at 1.00 give 2.5 m, 2.50; from 4 m at 0.60, 2.40.
    const result = await priced(
      needingWire(
        2300,
        [supplier('s')],
        [
          byTheMetre('fine', 's', 'red', '1', { stepMm: 500 }),
          byTheMetre('coarse', 's', 'red-too', '0.60', { minimumMm: 4000 }),
        ],
      ),
    );
    expect(bought(result)).toEqual({ coarse: 4000 });
    expect(result.orderLists[0]?.lines[0]).toMatchObject({ oneContinuousLength: true, colour: 'red' });
  });

  test('is not pieced together from two offers, though that were cheaper', async () => {
    // 2.3 m: 4 m at 0.60 is 2.40; 2 m at 0.60 and half a metre at 2.00 would be 2.20.
    const result = await priced(
      needingWire(
        2300,
        [supplier('s')],
        [
          byTheMetre('coarse', 's', 'red', '0.60', { minimumMm: 2000, stepMm: 2000 }),
          byTheMetre('fine', 's', 'red-too', '2', { minimumMm: 500, stepMm: 500 }),
        ],
      ),
    );
    expect(bought(result)).toEqual({ coarse: 4000 });
  });

  test('whose minimum is no multiple of its step is bought from the next multiple', async () => {
    const result = await priced(
      needingWire(100, [supplier('s')], [byTheMetre('o', 's', 'red', '1', { minimumMm: 1000, stepMm: 300 })]),
    );
    expect(bought(result)).toEqual({ o: 1200 });
  });

  test('at a price of four decimals below the penny is priced exactly', async () => {
    // 7 × 0.123456 = 0.864192
    const result = await priced(
      needingWire(7000, [supplier('s')], [byTheMetre('o', 's', 'red', '0.123456')]),
    );
    expect(result.purchases[0]).toMatchObject({ exactCost: gbp('0.864192'), cost: gbp('0.86') });
    expect(result.proof.cost).toEqual(gbp('0.864192'));
  });
});

describe('postage by value', () => {
  const one = (price: string, bands: [string, string][], count = 1) =>
    priced(needing({ tie: count }, [supplier('s', ...bands)], [pack('o', 's', 'tie', 1, price)]));

  test('is that of the band in which the goods’ value lies; a value at its start is in it', async () => {
    const bands: [string, string][] = [
      ['0', '3'],
      ['20', '0'],
    ];
    expect((await one('19.98', bands)).costs.total.amount).toBe('22.98');
    expect((await one('20', bands)).costs.total.amount).toBe('20.00');
  });

  test('goes by the value before rounding', async () => {
    // 19.9999 prints as 20.00 but does not reach 20.
    const result = await one('19.9999', [
      ['0', '3'],
      ['20', '0'],
    ]);
    expect(result.orderLists[0]).toMatchObject({
      goods: gbp('20.00'),
      postage: gbp('3.00'),
      total: gbp('23.00'),
    });
  });

  test('that rises with the value is charged as it rises', async () => {
    const bands: [string, string][] = [
      ['0', '2'],
      ['10', '5'],
      ['50', '9'],
    ];
    expect((await one('9.99', bands)).costs.total.amount).toBe('11.99');
    expect((await one('10', bands)).costs.total.amount).toBe('15.00');
    expect((await one('60', bands)).costs.total.amount).toBe('69.00');
  });

  test('that falls and rises again is bought up to only as far as it pays', async () => {
    // 8 needed at 1.00: 8 + 6 = 14; bought up to 10: 10 + 1 = 11; the band from 30 charges 4.
    const result = await one(
      '1',
      [
        ['0', '6'],
        ['10', '1'],
        ['30', '4'],
      ],
      8,
    );
    expect(bought(result)).toEqual({ o: 10 });
    expect(result.costs.total.amount).toBe('11.00');
  });

  test('is not charged by a supplier from whom nothing is bought', async () => {
    const result = await priced(
      needing(
        { tie: 1 },
        [supplier('a', ['0', '2']), supplier('b', ['0', '1'])],
        [pack('a1', 'a', 'tie', 1, '5'), pack('b1', 'b', 'tie', 1, '5')],
      ),
    );
    expect(result.costs.lines.map((line) => [line.kind, line.supplier])).toEqual([
      ['goods', 'b'],
      ['postage', 'b'],
    ]);
  });
});

describe('the comparison with single prices', () => {
  test('takes of equally dear lines the one with least too much, then the first by code', async () => {
    const result = await priced(
      needing(
        { tie: 4 },
        [supplier('a', ['0', '1']), supplier('b', ['0', '9']), supplier('c', ['0', '5'])],
        [pack('a', 'a', 'tie', 5, '2'), pack('b', 'b', 'tie', 4, '2'), pack('c', 'c', 'tie', 4, '2')],
      ),
    );
    // By itself each line costs 2.00; of b and c, with nothing too much, b is first, and its postage is 9.
    expect(result.comparisons[0]).toMatchObject({ total: gbp('11.00'), saving: gbp('8.00'), suppliers: 1 });
  });
});

test('printed lines are rounded half up once, and a rounding line makes them sum to the supplier’s total', async () => {
  // Three lines of 0.005 print as 0.01 each, 0.03; exactly they are 0.015, which is 0.02.
  const requirements = { a: 1, b: 1, c: 1 };
  const result = await priced(
    needing(
      requirements,
      [supplier('s')],
      Object.keys(requirements).map((part) => pack(part, 's', part, 1, '0.005')),
    ),
  );
  expect(result.purchases.map(({ cost }) => cost.amount)).toEqual(['0.01', '0.01', '0.01']);
  expect(result.orderLists[0]).toMatchObject({
    goods: gbp('0.03'),
    postage: gbp('0.00'),
    rounding: gbp('-0.01'),
    total: gbp('0.02'),
  });
});

test('a terminal and a wire of one loom are bought together where that saves a parcel', async () => {
  const result = await priced(
    jobOf({
      parts: [wirePart('red'), terminal('ring')],
      suppliers: [supplier('near', ['0', '3']), supplier('far', ['0', '3'])],
      offers: [
        byTheMetre('near-red', 'near', 'red', '1'),
        byTheMetre('far-red', 'far', 'red', '0.90'),
        pack('near-ring', 'near', 'ring', 1, '0.10'),
      ],
      loom: {
        points: points('A', 'B'),
        wires: [wire('1', { to: { point: 'B', join: 'crimp', terminal: { part: 'ring' } } })],
      },
    }),
  );
  expect(result.orderLists.map((list) => list.supplier)).toEqual(['near']);
  expect(bought(result)).toEqual({ 'near-red': 2000, 'near-ring': 2 });
});
