import { describe, expect, test } from 'vitest';
import { ONE_STOCK } from '../cutting/examples.ts';
import { isAtHand, schwerin, t60, u250 } from '../cutting/binPacking.ts';
import { cut, cutsAll, type Piece, type Stock } from './sleeveJob.ts';

describe('published cutting-stock examples, each length at one price, through the whole engine', () => {
  test.each(ONE_STOCK)('%s', async (_source, stock, pieces, optimum) => {
    const { status, cost, plan } = await cut([[stock, 1]], pieces);
    expect({ status, cost, exact: plan?.exact }).toEqual({ status: 'proven', cost: optimum, exact: true });
  });

  test('several lengths at prices of their own: VPSolver, example vsbpp', async () => {
    const pieces = [
      10, 14, 17, 19, 19, 24, 29, 32, 33, 36, 38, 40, 50, 54, 55, 63, 66, 71, 77, 77, 79, 83, 92, 95, 99,
    ].map((mm): Piece => [mm, 1]);
    const stocks: Stock[] = [
      [100, 100],
      [120, 120],
      [150, 150],
    ];
    const found = await cut(stocks, pieces, 60);
    expect({ status: found.status, cost: found.cost }).toEqual({ status: 'proven', cost: 1280 });
    expect(cutsAll(found, pieces)).toBe(true);
  });
});

/** Every tenth instance; `npm run proof` takes all. */
const tenth = <T>(list: readonly T[], from: number) => list.filter((_, index) => index % 10 === from);

describe.skipIf(!isAtHand)('instances that the literature solves, where they are at hand', () => {
  test.each([
    ['Falkenauer 1996, uniform, 250 pieces', isAtHand ? tenth(u250(), 7) : []],
    ['Falkenauer 1996, triplets, 60 pieces', isAtHand ? tenth(t60(), 3) : []],
    ['Schwerin & Wäscher 1997', isAtHand ? tenth(schwerin(), 5) : []],
  ])('%s: the known optimum, proven', async (_source, instances) => {
    expect(instances.length).toBeGreaterThan(0);
    for (const { name, stock, pieces, optimum } of instances) {
      const asked = pieces.map(({ mm, count }): Piece => [mm, count]);
      const found = await cut([[stock, 1]], asked);
      expect({ name, status: found.status, cost: found.cost, all: cutsAll(found, asked) }).toEqual({
        name,
        status: 'proven',
        cost: optimum,
        all: true,
      });
    }
  });
});
