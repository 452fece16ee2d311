import fc from 'fast-check';
import { expect, test } from 'vitest';
import { cuttingOf } from '../../worker/engine/cutting/cutting.ts';
import { leftSide } from '../../worker/engine/cutting/inequality.ts';
import { packInto, type Bin, type Packing } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';
import { searchTree } from '../../worker/engine/cutting/tree.ts';
import { Cancelled } from '../../worker/engine/model/control.ts';
import { unhurried } from '../engine/fixtures.ts';
import { smallCutting } from './arbitraryCutting.ts';
import { comesOut } from './everyWay.ts';

/** What is wrong with a packing; nothing where each piece is cut once out of a length that there is and that holds it. */
function faultsOf(packing: Packing, bins: readonly Bin[], pieces: readonly Pieces[]): string[] {
  if (packing.status !== 'packed') return ['not packed'];
  const key = ({ mm, wave = 0 }: Pieces) => `${mm} of wave ${wave}`;
  const left = new Map(pieces.map((piece) => [key(piece), piece.count]));
  const used = bins.map(() => 0);
  const faults: string[] = [];
  for (const { bin, lengths, pieces: own } of packing.lengths) {
    used[bin] = (used[bin] ?? 0) + lengths;
    const mm = own.reduce((sum, piece) => sum + piece.mm * piece.count, 0);
    if (mm > (bins[bin]?.usableMm ?? 0)) faults.push(`${mm} mm out of bin ${bin}`);
    for (const piece of own) {
      if ((piece.wave ?? 0) < (bins[bin]?.wave ?? 0)) faults.push(`${key(piece)} out of a later bin`);
      left.set(key(piece), (left.get(key(piece)) ?? NaN) - lengths * piece.count);
    }
  }
  for (const [piece, count] of left) if (count !== 0) faults.push(`${count} too few of ${piece}`);
  used.forEach((lengths, bin) => {
    if (lengths > (bins[bin]?.count ?? 0)) faults.push(`${lengths} of bin ${bin}`);
  });
  return faults;
}

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

test('the exact search alone, without a model of all fillings to fall back on, decides the same', async () => {
  let impossible = 0;
  await fc.assert(
    fc.asyncProperty(smallCutting, async ({ bins, pieces }) => {
      const search = { cutting: cuttingOf(bins, pieces), control: unhurried, pool: [] };
      const rest = { lengths: bins.map(({ count }) => count), counts: pieces.map(({ count }) => count) };
      const found = await searchTree(search, rest, { nodes: 100_000, fillings: 0 });
      const truth = comesOut(bins, pieces);
      if (!truth) impossible++;
      expect(typeof found === 'string' ? found : 'packed').toBe(truth ? 'packed' : 'impossible');
    }),
    { seed: 1125, numRuns: 200 },
  );
  expect(impossible).toBeGreaterThan(20);
});

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

test('out of time, a question that needs a search is unknown; cancelled, it is thrown', async () => {
  // 5 of 44, 7 of 33 and 17 of 12 do not come out of five of 132, though they do in fractions.
  const pieces = [
    { mm: 44, count: 5 },
    { mm: 33, count: 7 },
    { mm: 12, count: 17 },
  ];
  const bins = [{ usableMm: 132, count: 5 }];
  expect(await packInto(bins, pieces, { ...unhurried, remainingMs: () => 0 })).toEqual({ status: 'unknown' });
  await expect(packInto(bins, pieces, { ...unhurried, cancelled: () => true })).rejects.toThrow(Cancelled);
});

test('more pieces of more lengths than tables are made for are still packed, or shown too much', async () => {
  const pieces = Array.from({ length: 400 }, (_, at) => ({ mm: 4_999 - 11 * at, count: 3 }));
  const total = pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
  const enough = [{ usableMm: 100_000, count: Math.ceil((total * 1.01) / 100_000) }];
  expect(faultsOf(await packInto(enough, pieces, unhurried), enough, pieces)).toEqual([]);
  const short = [{ usableMm: 100_000, count: Math.floor(total / 100_000) }];
  expect((await packInto(short, pieces, unhurried)).status).toBe('impossible');
});
