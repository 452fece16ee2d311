import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import { spareCovering } from '../../../worker/engine/loom/coverings/spareCovering.ts';
import { bought, byTheMetre, jobOf, priced, supplier, unhurried } from '../fixtures.ts';
import { sleeve, tape } from './loom.ts';

const cut = (cutMm: number, count = 1, spareCoveringPercent = 5, spareCoveringMinimumMm = 50) => ({
  cutMm,
  count,
  settings: { spareCoveringPercent, spareCoveringMinimumMm },
});

describe('spare of a sleeve', () => {
  test('is 5 % of each covering, 50 mm for each at the least, and in one piece', () => {
    // 5 % of 2600 is 130; of 901 it is 45.05, so 50: 130 + 2 × 50.
    expect(spareCovering([cut(2600), cut(901, 2)])).toEqual({
      spares: [{ cutMm: 230, count: 1 }],
      step: {
        rule: 'spares',
        text: 'for 3 coverings 5 % of each, at least 50, at most all of it: 230 mm spare in one piece',
        value: 230,
        unit: 'mm',
      },
    });
  });

  test('is no more than the covering again, and in no piece longer than the longest', () => {
    expect(spareCovering([cut(40, 3)])).toMatchObject({
      spares: [{ cutMm: 40, count: 3 }],
      step: { value: 120 },
    });
    expect(spareCovering([cut(60, 2)])?.spares).toEqual([
      { cutMm: 60, count: 1 },
      { cutMm: 40, count: 1 },
    ]);
  });

  test('is none at 0 %, and goes by each loom’s own settings', () => {
    expect(spareCovering([cut(2000, 1, 0)])).toBeUndefined();
    expect(spareCovering([cut(2000, 1, 0), cut(2000, 1, 10), cut(2000, 1, 5, 300)])?.step.value).toBe(500);
  });

  test('never falls with another covering', () => {
    const piece = fc
      .tuple(
        fc.integer({ min: 1, max: 5000 }),
        fc.integer({ min: 1, max: 9 }),
        fc.integer({ min: 0, max: 90 }),
      )
      .map((given) => cut(...given));
    fc.assert(
      fc.property(fc.array(piece), piece, (pieces, more) => {
        const spare = spareCovering(pieces);
        const total = (spare?.spares ?? []).reduce((sum, { cutMm, count }) => sum + cutMm * count, 0);
        expect(total).toBe(spare?.step.value ?? 0);
        expect(spareCovering([...pieces, more])?.step.value ?? 0).toBeGreaterThanOrEqual(total);
      }),
    );
  });
});

const job = jobOf({
  club: { currency: 'GBP', settings: { besideSeconds: 0 } },
  parts: [sleeve('braid', 'braided'), sleeve('shrink', 'heatShrink'), tape('tape')],
  suppliers: [supplier('s')],
  offers: ['braid', 'shrink', 'tape'].map((part) => byTheMetre(part, 's', part, '1', { stepMm: 1000 })),
  loom: {
    settings: { braidExtraPercent: 0, braidTrimMm: 0 },
    coverings: [
      { id: 'b', kind: 'braided', part: 'braid', lengthMm: 1000 },
      { id: 'h', kind: 'heatShrink', part: 'shrink', lengthMm: 100 },
      { id: 't', kind: 'tape', part: 'tape', lengthMm: 4000 },
    ],
  },
});

test('spares of braid, heat-shrink and tape are in what is needed, so that nothing is bought to the exact metre', async () => {
  expect(rollUp(job, unhurried).requirements).toMatchObject([
    { part: 'braid', totalMm: 1050, spares: [{ cutMm: 50, count: 1 }] },
    { part: 'shrink', totalMm: 150 },
    { part: 'tape', totalMm: 4200, steps: [{}, {}, { text: '4000 + 200 spare = 4200 mm' }] },
  ]);
  const result = await priced(job);
  expect(bought(result)).toEqual({ braid: 2000, shrink: 1000, tape: 5000 });
  const names = result.cuttingPlans[0]?.lengths[0]?.pieces.map(({ cutMm, names: own }) => [cutMm, own]);
  expect(names).toEqual([
    [1000, ['l/covering b']],
    [50, ['spare']],
  ]);
});
