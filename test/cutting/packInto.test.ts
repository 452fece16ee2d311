import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cuttingOf } from '../../worker/engine/cutting/cutting.ts';
import { leftSide } from '../../worker/engine/cutting/inequality.ts';
import { packInto, type Bin } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';
import { searchTree } from '../../worker/engine/cutting/tree.ts';
import { Cancelled } from '../../worker/engine/model/control.ts';
import { unhurried } from '../engine/fixtures.ts';
import { smallCutting } from './arbitraryCutting.ts';
import { comesOut } from './everyWay.ts';
import { faultsOf } from './faultsOf.ts';

test('small packings are packed where trying every way finds one, rightly, and shown impossible where none is', async () => {
  let [packed, impossible, waved] = [0, 0, 0];
  await fc.assert(
    fc.asyncProperty(smallCutting, async ({ bins, pieces }) => {
      const packing = await packInto(bins, pieces, unhurried);
      if (comesOut(bins, pieces)) {
        packed++;
        if (pieces.some(({ wave }) => wave)) waved++;
        expect(faultsOf(packing, bins, pieces)).toEqual([]);
        return;
      }
      impossible++;
      expect(packing.status).toBe('impossible');
      if (packing.status !== 'impossible' || !packing.why) return;
      const counts = bins.map(({ count }) => count);
      expect(leftSide(packing.why, counts, [])).toBeLessThan(packing.why.need);
    }),
    { seed: 20261125, numRuns: 400 },
  );
  expect(packed).toBeGreaterThan(100);
  expect(impossible).toBeGreaterThan(40);
  expect(waved).toBeGreaterThan(10);
});

test.each([
  ['with tables', Infinity],
  ['without tables', 0],
])(
  'the exact search alone, %s, without a model of all fillings, decides the same',
  async (_, mostEntries) => {
    let impossible = 0;
    await fc.assert(
      fc.asyncProperty(smallCutting, async ({ bins, pieces }) => {
        const search = { cutting: cuttingOf(bins, pieces, mostEntries), control: unhurried, pool: [] };
        const rest = { lengths: bins.map(({ count }) => count), counts: pieces.map(({ count }) => count) };
        const found = await searchTree(search, rest, { nodes: 100_000, fillings: 0 });
        const truth = comesOut(bins, pieces);
        if (!truth) impossible++;
        expect(typeof found === 'string' ? found : 'packed').toBe(truth ? 'packed' : 'impossible');
      }),
      { seed: 1125, numRuns: 100 },
    );
    expect(impossible).toBeGreaterThan(10);
  },
);

test('a piece is cut of a length of its own order or an earlier one, not of a later', async () => {
  const first: Pieces[] = [{ mm: 500, count: 1, wave: 0 }];
  const second: Pieces[] = [{ mm: 500, count: 1, wave: 1 }];
  const ofWave = (wave: number): Bin[] => [{ usableMm: 1000, count: 1, wave }];
  expect((await packInto(ofWave(1), first, unhurried)).status).toBe('impossible');
  expect((await packInto(ofWave(0), second, unhurried)).status).toBe('packed');
  expect((await packInto(ofWave(1), second, unhurried)).status).toBe('packed');
});

test('what asks for nothing is packed in nothing, and nothing comes out of nothing', async () => {
  expect(await packInto([], [], unhurried)).toEqual({ status: 'packed', lengths: [] });
  expect((await packInto([], [{ mm: 1, count: 1 }], unhurried)).status).toBe('impossible');
});

test('a piece longer than any length is shown impossible by an inequality that no lengths satisfy', async () => {
  const packing = await packInto([{ usableMm: 999, count: 1e9 }], [{ mm: 1000, count: 1 }], unhurried);
  expect(packing).toEqual({ status: 'impossible', why: { worth: [0], perMm: [], need: 1 } });
});

test('out of time, or without effort, a question that needs a search is unknown; cancelled, it is thrown', async () => {
  // 5 of 44, 7 of 33 and 17 of 12 do not come out of five of 132, though they do in fractions.
  const pieces = [
    { mm: 44, count: 5 },
    { mm: 33, count: 7 },
    { mm: 12, count: 17 },
  ];
  const bins = [{ usableMm: 132, count: 5 }];
  expect(await packInto(bins, pieces, { ...unhurried, remainingMs: () => 0 })).toEqual({ status: 'unknown' });
  expect(await packInto(bins, pieces, unhurried, 0)).toEqual({ status: 'unknown' });
  expect((await packInto(bins, pieces, unhurried, 1 / 16)).status).toBe('impossible');
  await expect(packInto(bins, pieces, { ...unhurried, cancelled: () => true })).rejects.toThrow(Cancelled);
});
