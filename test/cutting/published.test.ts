import { describe, expect, test } from 'vitest';
import { leftSide } from '../../worker/engine/cutting/inequality.ts';
import { packInto } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';
import { startingInequalities } from '../../worker/engine/cutting/startingInequalities.ts';
import { unhurried } from '../engine/fixtures.ts';
import { randomBelow } from '../support/randomBelow.ts';
import { isAtHand, counted, schwerin, t60, u250, type Instance } from './binPacking.ts';
import { ONE_STOCK } from './examples.ts';
import { fewestLengths } from './fewest.ts';

const listed = (pairs: readonly (readonly [number, number])[]): Pieces[] =>
  pairs.map(([mm, count]) => ({ mm, count })).sort((a, b) => b.mm - a.mm);

/** Whether the pieces come out of so many lengths, and out of one fewer. */
async function about(usableMm: number, count: number, pieces: Pieces[]) {
  const of = async (lengths: number) =>
    (await packInto([{ usableMm, count: lengths }], pieces, unhurried)).status;
  return { fewer: await of(count - 1), optimum: await of(count) };
}
const PROVEN = { fewer: 'impossible', optimum: 'packed' };

describe('published cutting-stock examples: the optimum is packed, one length fewer impossible', () => {
  test.each(ONE_STOCK)('%s', async (_source, stock, pairs, optimum) => {
    expect(await about(stock, optimum, listed(pairs))).toEqual(PROVEN);
  });

  test('several lengths at prices of their own: VPSolver, example vsbpp: 1280', async () => {
    const pieces = counted([
      10, 14, 17, 19, 19, 24, 29, 32, 33, 36, 38, 40, 50, 54, 55, 63, 66, 71, 77, 77, 79, 83, 92, 95, 99,
    ]);
    const stocks = [100, 120, 150].map((usableMm) => ({ usableMm, price: usableMm }));
    const known = await startingInequalities(stocks, pieces, unhurried);
    const sets: { cost: number; lengths: number[] }[] = [];
    for (let a = 0; a <= 13; a++)
      for (let b = 0; b <= 11; b++)
        for (let c = 0; c <= 9; c++) sets.push({ cost: 100 * a + 120 * b + 150 * c, lengths: [a, b, c] });
    sets.sort((left, right) => left.cost - right.cost);
    let found: number | undefined;
    for (const { cost, lengths } of sets) {
      if (known.some((inequality) => leftSide(inequality, lengths, []) < inequality.need)) continue;
      const bins = stocks.map((stock, at) => ({ ...stock, count: lengths[at] ?? 0 }));
      const packing = await packInto(bins, pieces, unhurried);
      expect(packing.status).not.toBe('unknown');
      if (packing.status === 'impossible' && packing.why) known.push(packing.why);
      if (packing.status !== 'packed') continue;
      found = cost;
      break;
    }
    expect(found).toBe(1280);
  });
});

// Instances whose optimum is one above the rounded-up fraction exist from lengths of 16 on, and for none below: Ripatti and
// Kartak, Journal of Applied and Industrial Mathematics 14 (2020). The lengths 44, 33 and 12 out of 132 are, from memory,
// those of a gap of 137/132 (Fieldhouse, The duality gap in trim problems, SICUP Bulletin 5, 1990); the counts are
// chosen here so that each piece alone fills lengths wholly, and the optimum is found by every way of filling.
describe('a bound is not assumed', () => {
  test.each<[counts: [number, number, number], rounded: number]>([
    [[5, 7, 17], 5],
    [[5, 11, 17], 6],
    [[11, 11, 28], 9],
  ])('44, 33 and 12 out of 132, %j of them: in fractions %i, truly one more', async (counts, rounded) => {
    const [a, b, c] = counts;
    const pieces = listed([
      [44, a],
      [33, b],
      [12, c],
    ]);
    expect(Math.ceil(a / 3 + b / 4 + c / 11)).toBe(rounded);
    expect(fewestLengths(132, pieces)).toBe(rounded + 1);
    const inequalities = await startingInequalities([{ usableMm: 132, price: 1 }], pieces, unhurried);
    expect(Math.max(...inequalities.map(({ worth, need }) => Math.ceil(need / (worth[0] ?? 1))))).toBe(
      rounded,
    );
    expect(await about(132, rounded + 1, pieces)).toEqual(PROVEN);
    // The fraction does not show it, so there is nothing to show it by.
    expect(await packInto([{ usableMm: 132, count: rounded }], pieces, unhurried)).toEqual({
      status: 'impossible',
    });
  });
});

/** A seeded choice of so many. */
function some(instances: readonly Instance[], many: number): Instance[] {
  const below = randomBelow(20_261_125);
  const left = [...instances];
  return Array.from({ length: many }, () => left.splice(below(left.length), 1)).flat();
}

describe.skipIf(!isAtHand)(
  'published bin-packing instances, a seeded tenth: the known optimum, with proof',
  () => {
    test.each<[set: string, read: () => Instance[], all: number]>([
      ['Falkenauer 1996, u250', u250, 20],
      ['Falkenauer 1996, t60', t60, 20],
      ['Schwerin and Wäscher 1997', schwerin, 100],
    ])('%s', async (_set, read, all) => {
      const instances = read();
      expect(instances).toHaveLength(all);
      for (const { name, stock, pieces, optimum } of some(instances, all / 10))
        expect({ name, ...(await about(stock, optimum, pieces)) }).toEqual({ name, ...PROVEN });
    });
  },
);
