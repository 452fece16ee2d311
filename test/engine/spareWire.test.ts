import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { spareWire } from '../../worker/engine/loom/wires/spareWire.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { DEFAULT_SETTINGS, type SettingValues } from '../../worker/engine/model/settings.ts';
import { jobOf, mm2, points, unhurried, wire } from './fixtures.ts';

const thin = { cableType: 'thin-wall', size: mm2(1) };
const heavy = { cableType: 'thin-wall', size: mm2(10) };
const settled = (given: Partial<SettingValues> = {}) => ({ ...DEFAULT_SETTINGS, ...given });
const cut = (cutMm: number, count = 1, given: Partial<SettingValues> = {}, functional = false) => ({
  cutMm,
  count,
  settings: settled(given),
  functional,
});
const mmOf = (spec: typeof thin, ...pieces: ReturnType<typeof cut>[]) => spareWire(spec, pieces)?.step.value;

describe('spare wire of a colour', () => {
  test('worked by hand: a tenth of its metres in one piece', () => {
    // Brown of the trailer: 2875 + 601 + 1116 + 673 = 5265 mm; a tenth is 526.5, up to 527; between 300 and 1000.
    const spare = spareWire(thin, [cut(2875), cut(601), cut(1116), cut(673)]);
    expect(spare).toEqual({
      spares: [{ cutMm: 527, count: 1 }],
      step: {
        rule: 'spareWire',
        text: '10 % of 5265 = 526.5, at least 300, at most 1000: 527 mm spare in one piece',
        value: 527,
        unit: 'mm',
      },
    });
  });

  test('is 300 mm at the least and one metre at the most', () => {
    // A tenth of 2999, 3001, 9991 and 10,001 mm: 299.9, 300.1, 999.1, 1000.1.
    expect([2999, 3001, 9991, 10_001, 99_999].map((mm) => mmOf(thin, cut(mm)))).toEqual([
      300, 301, 1000, 1000, 1000,
    ]);
  });

  test('is in no piece longer than the longest wire, so that it comes out of any length that wires come out of', () => {
    expect(spareWire(thin, [cut(140, 3)])).toMatchObject({
      spares: [
        { cutMm: 140, count: 2 },
        { cutMm: 20, count: 1 },
      ],
      step: {
        text: expect.stringContaining('300 mm spare in pieces of 2 × 140 + 20, none longer') as string,
      },
    });
  });

  test('is none above 6 mm², and the step says so; 6 mm² has some', () => {
    expect(spareWire(heavy, [cut(5000)])).toEqual({
      spares: [],
      step: { rule: 'spareWire', text: 'no spare above 6 mm²: this wire has 10 mm²', value: 0, unit: 'mm' },
    });
    expect(mmOf({ ...thin, size: mm2(6) }, cut(5000))).toBe(500);
    expect(mmOf(heavy, cut(5000, 1, { spareWireUpToMm2: 10 }))).toBe(500);
  });

  test('of a size whose area is not known is made as of a small one, and the step says so', () => {
    const unknown = { cableType: 'GPT', size: { system: 'sae' as const, gauge: '1' } };
    expect(spareWire(unknown, [cut(5000)])?.step).toMatchObject({
      value: 500,
      text: expect.stringContaining('its mm² are not known, so the size limit is not applied') as string,
    });
  });

  test('counts no functional length, and is none of those alone', () => {
    expect(mmOf(thin, cut(5000), cut(4000, 1, {}, true))).toBe(500);
    expect(spareWire(thin, [cut(4000, 1, {}, true)])).toMatchObject({
      spares: [],
      step: { text: 'no spare for a wire whose length is set by its function' },
    });
  });

  test('is none where no percentage and no pieces are asked for', () => {
    expect(spareWire(thin, [cut(1000, 25, { spareWirePercent: 0 })])).toBeUndefined();
  });

  test('is so many times its longest piece where that is asked for, beyond the most as well', () => {
    expect(mmOf(thin, cut(2500), cut(400, 1, { spareWirePieces: 2 }))).toBe(5000);
    expect(mmOf(thin, cut(2500, 1, { spareWirePercent: 0, spareWirePieces: 1 }))).toBe(2500);
    expect(mmOf(thin, cut(100, 1, { spareWirePieces: 1 }))).toBe(300);
  });

  test('of looms with different percentages is summed before the one rounding up', () => {
    // 5 % of 6110 + 10 % of 2045 = 305.5 + 204.5 = 510.
    expect(mmOf(thin, cut(6110, 1, { spareWirePercent: 5 }), cut(2045))).toBe(510);
  });

  test('goes by the most cautious least and most of several looms', () => {
    expect(mmOf(thin, cut(1000, 1, { spareWireMinimumMm: 450 }), cut(1000))).toBe(450);
    expect(mmOf(thin, cut(20_000, 1, { spareWireMostMm: 1500 }), cut(1000))).toBe(1500);
  });

  test('goes by the first rule for its cable type and size, figure by figure, then by the settings', () => {
    const spareWireBy = [
      { cableType: 'thin-wall', overMm2: 2, percent: 20 },
      { cableType: 'GPT', percent: 50 },
      { cableType: 'thin-wall', percent: 5, minimumMm: 100 },
    ];
    const by = { spareWireBy };
    // 1 mm² is not over 2 mm², nor is 2 mm² itself.
    expect(mmOf(thin, cut(1000, 1, by))).toBe(100);
    expect(mmOf({ ...thin, size: mm2(2) }, cut(4000, 1, by))).toBe(200);
    expect(mmOf({ ...thin, size: mm2(3) }, cut(3000, 1, by))).toBe(600);
    expect(mmOf({ cableType: 'pvc', size: mm2(1) }, cut(4000, 1, by))).toBe(400);
    expect(
      mmOf(thin, cut(9000, 1, { spareWireBy: [{ cableType: 'thin-wall', percent: 0 }] })),
    ).toBeUndefined();
  });

  test('adds up to what the step says, in pieces no longer than the longest, and never falls with another wire', () => {
    const piece = fc.record({
      cutMm: fc.integer({ min: 1, max: 5000 }),
      count: fc.integer({ min: 1, max: 9 }),
      functional: fc.boolean(),
      settings: fc
        .record({
          spareWirePercent: fc.integer({ min: 0, max: 100 }),
          spareWireMinimumMm: fc.integer({ min: 0, max: 900 }),
          spareWireMostMm: fc.integer({ min: 0, max: 3000 }),
          spareWirePieces: fc.integer({ min: 0, max: 3 }),
          spareWireUpToMm2: fc.constantFrom(0.5, 6),
        })
        .map(settled),
    });
    fc.assert(
      fc.property(fc.array(piece, { minLength: 1, maxLength: 8 }), piece, (pieces, more) => {
        const spare = spareWire(thin, pieces);
        const total = (spare?.spares ?? []).reduce((sum, { cutMm, count }) => sum + cutMm * count, 0);
        expect(total).toBe(spare?.step.value ?? 0);
        const longest = Math.max(...pieces.map(({ cutMm }) => cutMm));
        for (const { cutMm } of spare?.spares ?? []) expect(cutMm).toBeLessThanOrEqual(longest);
        expect(spareWire(thin, [...pieces, more])?.step.value ?? 0).toBeGreaterThanOrEqual(total);
      }),
    );
  });

  test('is in the metres of its requirement, and cut with its pieces', () => {
    const job = jobOf({
      club: { currency: 'GBP' },
      loom: {
        points: points('A', 'B'),
        settings: { slackPercent: 0, redoMm: 0, stripMm: 0 },
        wires: [wire('1'), wire('2')],
      },
    });
    expect(rollUp(job, unhurried).requirements).toMatchObject([
      {
        totalMm: 2300,
        spares: [{ cutMm: 300, count: 1 }],
        steps: [{}, {}, { text: '2000 + 300 spare = 2300 mm' }],
      },
    ]);
  });
});
