import { expect, test } from 'vitest';
import { packInto } from '../../worker/engine/cutting/packInto.ts';
import type { Pieces } from '../../worker/engine/cutting/patterns.ts';
import { unhurried } from '../engine/fixtures.ts';
import { cut, cutsAll } from '../sourcing/sleeveJob.ts';
import { randomBelow } from '../support/randomBelow.ts';
import { faultsOf } from './faultsOf.ts';

const REEL_MM = 500_000;

/** Pieces of 60 lengths of 0.3 to 9 m that no measure above 1 mm divides, and as many of 1 mm less as make them so long. */
function pieces(totalMm: number): Pieces[] {
  const below = randomBelow(60);
  const lengths = new Set<number>();
  while (lengths.size < 59) lengths.add(300 + below(8_700));
  const counts = new Map([...lengths].map((mm) => [mm, 1]));
  const sum = () => [...counts].reduce((all, [mm, count]) => all + mm * count, 0);
  const all = [...lengths];
  for (let left = totalMm - sum(); left > 20_000; left = totalMm - sum()) {
    const mm = all[below(all.length)] ?? 0;
    counts.set(mm, (counts.get(mm) ?? 0) + 1);
  }
  const last = totalMm - sum();
  counts.set(last, (counts.get(last) ?? 0) + 1);
  return [...counts].map(([mm, count]) => ({ mm, count })).sort((a, b) => b.mm - a.mm);
}

test('60 lengths that fill three reels of 500 m to the millimetre come out of them', async () => {
  const all = pieces(3 * REEL_MM);
  const bins = [{ usableMm: REEL_MM, count: 3 }];
  expect(faultsOf(await packInto(bins, all, unhurried), bins, all)).toEqual([]);
});

test('a millimetre more does not come out of them', async () => {
  const packing = await packInto([{ usableMm: REEL_MM, count: 3 }], pieces(3 * REEL_MM + 1), unhurried);
  expect(packing.status).toBe('impossible');
});

test('60 lengths out of reels of 500 and 100 m are bought at the least, with proof', async () => {
  // At one price a metre no more than one short reel is wasted in part: the least is what the total takes.
  const totalMm = 1_177_000;
  const asked = pieces(totalMm).map(({ mm, count }) => [mm, count] as const);
  const found = await cut(
    [
      [REEL_MM, 500],
      [100_000, 101],
    ],
    asked,
  );
  // Two long and two short reels: 1,202; three long ones 1,500; and 12 short ones 1,212.
  expect({ status: found.status, cost: found.cost }).toEqual({ status: 'proven', cost: 1_202 });
  expect(cutsAll(found, asked)).toBe(true);
});
