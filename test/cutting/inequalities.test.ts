import fc from 'fast-check';
import { expect, test } from 'vitest';
import { inequalityFor } from '../../worker/engine/cutting/inequalities.ts';
import { cuttingOf } from '../../worker/engine/cutting/cutting.ts';
import { inequalityOf, leftSide, type Inequality } from '../../worker/engine/cutting/inequality.ts';
import { startingInequalities } from '../../worker/engine/cutting/startingInequalities.ts';
import { WarmLp } from '../../worker/engine/solver/warmLp.ts';
import { unhurried } from '../engine/fixtures.ts';
import { smallCutting, type SmallCutting } from './arbitraryCutting.ts';
import { comesOut } from './everyWay.ts';
import { fillingsOf } from './fewest.ts';

const PARTS = [0, 0.3, 0.5, 0.8, 1];

/** Lengths and metres that a cutting may be given, those out of which everything comes, at most three of each stock. */
function feasible({ bins, pieces, metres }: SmallCutting): { lengths: number[]; mm: number[] }[] {
  const total = pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
  const longest = pieces[0]?.mm ?? 0;
  const choices = [
    ...bins.map(() => [0, 1, 2, 3]),
    ...metres.map(() => [0, longest, Math.round(total * 0.6), total]),
  ];
  const all = choices.reduce<number[][]>(
    (before, own) => before.flatMap((start) => own.map((one) => [...start, one])),
    [[]],
  );
  return all.flatMap((one) => {
    const lengths = one.slice(0, bins.length);
    const mm = one.slice(bins.length);
    const given = [
      ...bins.map((bin, at) => ({ ...bin, count: lengths[at] ?? 0 })),
      ...metres.map(({ wave }, at) => ({ usableMm: mm[at] ?? 0, count: 1, wave })),
    ];
    return comesOut(given, pieces) ? [{ lengths, mm }] : [];
  });
}

function expectHolds(inequality: Inequality, small: SmallCutting): number {
  const sets = feasible(small);
  for (const { lengths, mm } of sets)
    expect(leftSide(inequality, lengths, mm)).toBeGreaterThanOrEqual(inequality.need * (1 - 1e-12));
  return sets.length;
}

/** The share of lengths and metres that the pieces take in fractions, by a programme of all fillings; 100 at most. */
async function leastShare({ bins, pieces, metres }: SmallCutting, at: readonly number[]): Promise<number> {
  const amounts = [...at, ...metres.map(({ mm }) => mm)];
  const lp = await WarmLp.ofRows([
    ...pieces.map(({ count }) => ({ lower: count, upper: Infinity })),
    ...amounts.map(() => ({ lower: -Infinity, upper: 0 })),
  ]);
  const column = (cost: number, entries: [number, number][]) =>
    lp.add([{ cost, lower: 0, upper: Infinity, entries }]);
  column(
    1,
    amounts.map((amount, row): [number, number] => [pieces.length + row, -amount]),
  );
  pieces.forEach((_, piece) => column(100, [[piece, 1]]));
  bins.forEach(({ usableMm, wave = 0 }, bin) => {
    const allowed = pieces.map((piece) => ({ ...piece, count: (piece.wave ?? 0) >= wave ? piece.count : 0 }));
    for (const counts of fillingsOf(usableMm, allowed))
      column(0, [
        ...counts.map((count, piece): [number, number] => [piece, count]),
        [pieces.length + bin, 1],
      ]);
  });
  metres.forEach(({ wave }, metre) =>
    pieces.forEach((piece, index) => {
      const row = pieces.length + bins.length + metre;
      if ((piece.wave ?? 0) >= wave)
        column(0, [
          [index, 1],
          [row, piece.mm],
        ]);
    }),
  );
  const answer = lp.solve('primal', unhurried);
  const share = answer?.status === 'optimal' ? answer.objective : NaN;
  lp.dispose();
  return share;
}

test('an inequality cuts off the lengths it was asked for, in whole numbers of bearable size, and no set that is enough', async () => {
  let [cut, uncut, sets, fractions] = [0, 0, 0, 0];
  await fc.assert(
    fc.asyncProperty(smallCutting, fc.constantFrom(...PARTS), async (small, part) => {
      const { bins, pieces, metres } = small;
      const at = bins.map(({ count }) => count * part);
      const inequality = await inequalityFor(bins, pieces, at, unhurried, metres);
      if (!inequality) {
        uncut++;
        expect(await leastShare(small, at)).toBeLessThan(1 + 1e-6);
        return;
      }
      expect(await leastShare(small, at)).toBeGreaterThan(1);
      cut++;
      if (at.some((count) => !Number.isInteger(count))) fractions++;
      expect(
        leftSide(
          inequality,
          at,
          metres.map(({ mm }) => mm),
        ),
      ).toBeLessThan(inequality.need);
      expect([...inequality.worth, inequality.need].every(Number.isInteger)).toBe(true);
      expect(inequality.need).toBeLessThan(1e7);
      sets += expectHolds(inequality, small);
    }),
    { seed: 5, numRuns: 250 },
  );
  expect(cut).toBeGreaterThan(80);
  expect(uncut).toBeGreaterThan(20);
  expect(fractions).toBeGreaterThan(30);
  expect(sets).toBeGreaterThan(1000);
});

test('where everything comes out of the lengths there is no inequality to break', async () => {
  let asked = 0;
  await fc.assert(
    fc.asyncProperty(smallCutting, async (small) => {
      for (const { lengths, mm } of feasible(small).slice(0, 3)) {
        asked++;
        const metres = small.metres.map(({ wave }, at) => ({ mm: mm[at] ?? 0, wave }));
        expect(await inequalityFor(small.bins, small.pieces, lengths, unhurried, metres)).toBeUndefined();
      }
    }),
    { seed: 6, numRuns: 60 },
  );
  expect(asked).toBeGreaterThan(60);
});

test('the inequalities to begin with hold for every set of lengths that is enough', async () => {
  let [many, sets] = [0, 0];
  await fc.assert(
    fc.asyncProperty(
      smallCutting,
      fc.array(fc.integer({ min: 1, max: 900 }), { minLength: 4, maxLength: 4 }),
      async (small, prices) => {
        const stocks = small.bins.map((bin, at) => ({ ...bin, price: prices[at] ?? 1 }));
        const metres = small.metres.map(({ wave }) => ({ wave, pricePerMm: (prices[3] ?? 1) / 30 }));
        const inequalities = await startingInequalities(stocks, small.pieces, unhurried, metres);
        expect(inequalities.length).toBeGreaterThan(0);
        if (inequalities.length > 2) many++;
        for (const inequality of inequalities) sets += expectHolds(inequality, small);
      },
    ),
    { seed: 7, numRuns: 120 },
  );
  expect(many).toBeGreaterThan(10);
  expect(sets).toBeGreaterThan(1000);
});

test('without tables worths are the same, and with slack still hold for every set of lengths that is enough', async () => {
  let sets = 0;
  fc.assert(
    fc.property(
      smallCutting,
      fc.array(fc.nat(1_000), { minLength: 9, maxLength: 9 }),
      fc.constantFrom(0, 0.01, 0.2),
      (small, drawn, slack) => {
        const values = small.pieces.map(({ mm }, at) => 10 * mm + (drawn[at] ?? 0));
        const by = (mostEntries: number) => cuttingOf(small.bins, small.pieces, mostEntries);
        const inequality = inequalityOf(by(0), small.metres, values, slack);
        if (slack === 0) expect(inequality).toEqual(inequalityOf(by(Infinity), small.metres, values));
        sets += expectHolds(inequality, small);
      },
    ),
    { seed: 8, numRuns: 100 },
  );
  expect(sets).toBeGreaterThan(1000);
});

test('lengths that are enough in mm but hold too few long pieces are cut off', async () => {
  // Three pieces of 600 out of two of 1000: one each, whatever is over.
  const inequality = await inequalityFor([{ usableMm: 1000 }], [{ mm: 600, count: 3 }], [2], unhurried);
  expect(inequality).toEqual({ worth: [1], perMm: [], need: 3 });
});

test('earlier pieces are worth nothing in later lengths', async () => {
  const pieces = [
    { mm: 900, count: 1, wave: 1 },
    { mm: 800, count: 1, wave: 0 },
  ];
  const stocks = [
    { usableMm: 1000, wave: 0 },
    { usableMm: 1000, wave: 1 },
  ];
  expect(await inequalityFor(stocks, pieces, [0, 2], unhurried)).toMatchObject({
    worth: [expect.any(Number), 0],
  });
});
