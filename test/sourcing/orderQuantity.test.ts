import { describe, expect, test } from 'vitest';
import { Offer } from '../../worker/engine/model/offer.ts';
import { choiceOf } from '../../worker/engine/sourcing/offered/choices.ts';
import { lineCost } from '../../worker/engine/sourcing/problem/units.ts';
import { exactToAmount } from '../../worker/engine/units/money.ts';

type Prices = readonly [from: number, price: string][];

/** What so many pieces cost by the engine, where a price holds from so many on, for all of them. */
function costOf([first, ...further]: Prices): (pieces: number) => number {
  const money = (amount: string) => ({ amount, currency: 'USD' });
  const offer = Offer.parse({
    form: 'pack',
    code: 'o',
    supplier: 's',
    part: 'p',
    packCount: 1,
    packPrice: money(first?.[1] ?? '0'),
    breaks: further.map(([fromPacks, price]) => ({ fromPacks, packPrice: money(price) })),
  });
  const choice = choiceOf(offer, 0, 1, new Map());
  if (!choice) throw new Error('nothing is sold');
  return (pieces) => Number(exactToAmount(lineCost({ ...choice, serves: [] }, pieces), 'USD'));
}

/** The order of least yearly cost: goods, an order each time, and holding half an order at a share of its price. */
function cheapestOrder(prices: Prices, yearly: number, order: number, holding: number) {
  const cost = costOf(prices);
  const costs = Array.from({ length: yearly }, (_, index) => index + 1).map((pieces) => {
    const price = cost(pieces) / pieces;
    return { pieces, cost: yearly * price + (yearly / pieces) * order + (pieces / 2) * holding * price };
  });
  return costs.reduce((best, next) => (next.cost < best.cost ? next : best));
}

describe('prices that hold for all pieces from so many on', () => {
  test('Render & Heizer, the toy-car shop: order 1000, 24,725 a year', () => {
    const best = cheapestOrder(
      [
        [1, '5.00'],
        [1000, '4.80'],
        [2000, '4.75'],
      ],
      5000,
      49,
      0.2,
    );
    expect(best.pieces).toBe(1000);
    expect(best.cost).toBeCloseTo(24_725, 6);
  });

  // After Nahmias, Production and Operations Analysis; the figures are from memory.
  const nahmias: Prices = [
    [1, '0.30'],
    [500, '0.29'],
    [1000, '0.28'],
  ];

  test('Nahmias: 500 cost less than 499', () => {
    const cost = costOf(nahmias);
    expect([cost(499), cost(500)]).toEqual([149.7, 145]);
  });

  test('Nahmias: of 600 a year, 8 an order and 20 % holding, order 500, 198.10 a year', () => {
    const best = cheapestOrder(nahmias, 600, 8, 0.2);
    expect(best.pieces).toBe(500);
    expect(best.cost).toBeCloseTo(198.1, 6);
  });
});
