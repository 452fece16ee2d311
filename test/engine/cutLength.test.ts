import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { endAllowance } from '../../worker/engine/loom/lengths/endAllowances.ts';
import { cutLength } from '../../worker/engine/loom/lengths/cutLength.ts';
import type { Part } from '../../worker/engine/model/part.ts';
import type { End } from '../../worker/engine/model/loom.ts';
import { DEFAULT_SETTINGS } from '../../worker/engine/model/settings.ts';

const plainEnd: End = { point: 'A', join: 'crimp' };
const cut = (
  mm: number,
  basis: 'route' | 'sheathToSheath' | 'tipToTip',
  settings = {},
  ends: [End, End] = [plainEnd, plainEnd],
) => {
  const all = { ...DEFAULT_SETTINGS, ...settings };
  const [from, to] = ends.map((end) => endAllowance(end, undefined, 1, all));
  if (!from || !to) throw new Error('a wire has two ends');
  return cutLength({ mm, basis }, [from, to], all);
};

// The sum of the project's own design, §6.1, worked there by hand.
test('620 mm along the route becomes 675 mm, and the step says how', () => {
  const { cutMm, step } = cut(620, 'route');
  expect(cutMm).toBe(675);
  expect(step).toEqual({
    rule: 'cutLength',
    text: '620 route + 3 % slack 18.6 + tails 0 + strips 2 × 6 + remaking 2 × 12 = 674.6 → 675 mm',
    value: 675,
    unit: 'mm',
  });
});

test('a length from sheath to sheath takes the same additions as one along the route', () => {
  expect(cut(620, 'sheathToSheath').cutMm).toBe(675);
});

test('a length from tip to tip takes slack and remaking, but neither tails nor strips', () => {
  // 620 + 18.6 + 2 × 12 = 662.6
  const { cutMm, step } = cut(620, 'tipToTip', { tailMm: 40, stripMm: 9 });
  expect(cutMm).toBe(663);
  expect(step.text).toBe(
    '620 tip to tip (tails and strips included) + 3 % slack 18.6 + remaking 2 × 12 = 662.6 → 663 mm',
  );
});

test('an end that states its own tail and strip overrides the settings, at that end alone', () => {
  // 1000 + 30 + (25 + 10) + (8 + 6) + 24 = 1103
  const { cutMm, step } = cut(1000, 'route', { tailMm: 10 }, [
    { ...plainEnd, tailMm: 25, stripMm: 8 },
    plainEnd,
  ]);
  expect(cutMm).toBe(1103);
  expect(step.text).toContain('tails 25 + 10 + strips 8 + 6');
});

test('a stated strip of 0 is 0 and not the setting', () => {
  // 1000 + 30 + 0 + (0 + 6) + 24 = 1060
  expect(cut(1000, 'route', {}, [{ ...plainEnd, stripMm: 0 }, plainEnd]).cutMm).toBe(1060);
});

test('a length on the cutting step stays, one above it goes up to the next', () => {
  const plain = { slackPercent: 0, stripMm: 0, redoMm: 0, cuttingStepMm: 25 };
  expect(cut(500, 'route', plain).cutMm).toBe(500);
  expect(cut(501, 'route', plain).cutMm).toBe(525);
  expect(cut(501, 'route', plain).step.text).toContain('501 → 525 mm, in steps of 25 mm');
});

test('percentages are exact: 100 mm and 10 % are 110 mm', () => {
  // In floating point 100 × 1.1 is 110.00000000000001, which would round up to 111.
  expect(cut(100, 'route', { slackPercent: 10, stripMm: 0, redoMm: 0 }).cutMm).toBe(110);
});

test('the cut is a multiple of the step, never below the sum and less than a step above it', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 100_000 }),
      fc.constantFrom('route' as const, 'tipToTip' as const),
      fc.integer({ min: 0, max: 10_000_000 }),
      fc.integer({ min: 1, max: 1000 }),
      fc.integer({ min: 0, max: 200 }),
      fc.integer({ min: 0, max: 2000 }),
      (mm, basis, slackTenThousandths, cuttingStepMm, stripMm, redoMm) => {
        const { cutMm } = cut(mm, basis, {
          slackPercent: slackTenThousandths / 10_000,
          cuttingStepMm,
          stripMm,
          redoMm,
        });
        // In millionths of a millimetre, whole numbers throughout.
        const ends = basis === 'route' ? 2 * (stripMm + redoMm) : 2 * redoMm;
        const sum = BigInt(mm) * (1_000_000n + BigInt(slackTenThousandths)) + BigInt(ends) * 1_000_000n;
        const above = BigInt(cutMm) * 1_000_000n - sum;
        expect(cutMm % cuttingStepMm).toBe(0);
        expect(above >= 0n && above < BigInt(cuttingStepMm) * 1_000_000n).toBe(true);
      },
    ),
  );
});

describe('what an end adds', () => {
  const ring: Part = {
    kind: 'terminal',
    code: 'ring',
    description: 'Ring',
    terminalType: 'ring',
    stripMm: 9,
    tailMm: 4,
    redoMm: 15,
  };
  const settings = {
    ...DEFAULT_SETTINGS,
    byJoin: [
      { join: 'joint' as const, stripMm: 15 },
      { join: 'crimp' as const, overMm2: 6, stripMm: 12, redoMm: 25 },
      { join: 'crimp' as const, stripMm: 7, tailMm: 3 },
    ],
  };

  test('is what the end states, before its terminal, before the rules by join, before the settings', () => {
    expect(endAllowance({ ...plainEnd, stripMm: 0, tailMm: 50 }, ring, 1, settings)).toEqual({
      tailMm: 50,
      stripMm: 0,
      redoMm: 15,
    });
    expect(endAllowance(plainEnd, ring, 1, settings)).toEqual({ tailMm: 4, stripMm: 9, redoMm: 15 });
    expect(endAllowance(plainEnd, undefined, 1, settings)).toEqual({ tailMm: 3, stripMm: 7, redoMm: 12 });
    expect(endAllowance({ ...plainEnd, join: 'bare' }, undefined, 1, settings)).toEqual({
      tailMm: 0,
      stripMm: 6,
      redoMm: 12,
    });
  });

  test('goes by the first rule of its join that the size comes under: above 6 mm², not at it', () => {
    expect(endAllowance(plainEnd, undefined, 6, settings)).toMatchObject({ stripMm: 7, redoMm: 12 });
    expect(endAllowance(plainEnd, undefined, 6.1, settings)).toMatchObject({
      stripMm: 12,
      redoMm: 25,
      tailMm: 3,
    });
    expect(endAllowance(plainEnd, undefined, undefined, settings)).toMatchObject({ stripMm: 7 });
    expect(endAllowance({ ...plainEnd, join: 'joint' }, undefined, 25, settings).stripMm).toBe(15);
  });
});

test('what is trimmed on the board is added once to each wire, also from tip to tip', () => {
  // 620 + 18.6 + 24 + 40 = 702.6
  const { cutMm, step } = cut(620, 'tipToTip', { trimOnBoardMm: 40 });
  expect(cutMm).toBe(703);
  expect(step.text).toContain('+ trim on the board 40 = 702.6');
});

test('a twisted wire is made longer by its lay before the slack is added', () => {
  // 1000 × 1.02 = 1020; + 3 % slack 30.6 + strips 12 + re-do 24 = 1086.6
  const { cutMm, step } = cutLength(
    { mm: 1000, basis: 'route' },
    [DEFAULT_SETTINGS, DEFAULT_SETTINGS],
    DEFAULT_SETTINGS,
    { factor: 1.02, with: 'W2' },
  );
  expect(cutMm).toBe(1087);
  expect(step.text).toContain('1000 route, twisted with W2 1020 + 3 % slack 30.6');
});
