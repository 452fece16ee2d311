import { describe, expect, test } from 'vitest';
import { loomOf, sleeve, tape, worked, type CoveringInput } from './loom.ts';

const over = (
  kind: CoveringInput['kind'],
  part: string,
  more: Partial<CoveringInput> = {},
): CoveringInput => ({
  id: 'c',
  kind,
  part,
  over: ['trunk', 'leg'],
  ...more,
});

describe('a sleeve', () => {
  test('of PVC is as long as its branches and its overlaps', () => {
    const { cuts } = worked(
      loomOf({
        toB: [3],
        parts: [sleeve('s', 'pvc', { boreMm: 4 })],
        coverings: [over('pvc', 's', { overlapStartMm: 5, overlapEndMm: 10 })],
      }),
    );
    expect(cuts).toEqual({ c: 1515 });
  });

  // Chou & Hannaford 1996, from memory: at 30° 1000 mm of 10 mm become 923.76 at 12 mm.
  test('of braid shortens by its angle on each branch by what lies beneath, and is trimmed at both ends', () => {
    const braid = sleeve('s', 'braided', { restDiameterMm: 10, braidAngleDeg: 30 });
    const { cuts, pieces } = worked(loomOf({ toB: [12], parts: [braid], coverings: [over('braided', 's')] }));
    // 1500 / 0.92376 = 1623.80, trim 2 × 5.
    expect(cuts).toEqual({ c: 1634 });
    expect(pieces[0]?.steps.map(({ text }) => text)).toEqual([
      'trunk 1000 + leg 500 = 1500 mm',
      '1500 along its branches cut as 1623.8, as it shortens: 100 mm become 92.38 at 12 mm; + trim 2 × 5 = 1633.8 → 1634 mm',
    ]);
    // The trunk alone is thicker: two of 12 mm there, nothing beyond 20 mm; the leg as before.
    const two = worked(
      loomOf({
        toB: [12],
        toC: [3],
        parts: [braid],
        coverings: [over('braided', 's', { overlapEndMm: 20 })],
      }),
    );
    // 1000 over 12 + 3 = 15 mm: 1000 / 0.76376 = 1309.31; 520 / 0.92376 = 562.92; + 10.
    expect(two.cuts).toEqual({ c: 1883 });
  });

  test('of braid with a table goes by it; with neither, or of a stated length, by the setting', () => {
    const table = sleeve('s', 'braided', { shortensTo: [{ openedToMm: 12, per100Mm: 80 }] });
    const cutOf = (part: ReturnType<typeof sleeve>, more: Partial<CoveringInput> = {}) =>
      worked(loomOf({ toB: [12], parts: [part], coverings: [over('braided', 's', more)] })).cuts;
    expect(cutOf(table)).toEqual({ c: 1885 });
    expect(cutOf(sleeve('s', 'braided'))).toEqual({ c: 1660 });
    const { over: _none, ...stated } = over('braided', 's', { lengthMm: 500 });
    expect(worked(loomOf({ toB: [12], parts: [table], coverings: [stated] })).cuts).toEqual({ c: 560 });
  });

  /*
   * By hand: a braid that holds 6 to 12 mm and states nothing else. L² = b² · (1 − ⅔ · (D/12)²): 5/6 of b² as it lies at
   * 6 mm, 5/8 at 9 mm, 1/3 at 12 mm. So 500 mm of it cover 500, 500 · √(3/4) and 500 · √(2/5), and over a leg of 500 mm
   * are cut, with 2 × 5 of trim:
   *   at  6 mm  500 · 1            = 500,    less than the 10 % of the setting: 550 + 10 = 560
   *   at  9 mm  500 / 0.866025     = 577.35, + 10 = 587.35 → 588
   *   at 12 mm  500 / 0.632456     = 790.57, + 10 = 800.57 → 801
   */
  test('of braid that states its range alone gets what the geometry asks at three diameters of it, and 10 % at the least', () => {
    const braid = sleeve('s', 'braided', { holdsMinMm: 6, holdsMaxMm: 12 });
    const at = (diameterMm: number) =>
      worked(
        loomOf({ toB: [diameterMm], parts: [braid], coverings: [over('braided', 's', { over: ['leg'] })] }),
      );
    expect([6, 9, 12].map((diameterMm) => at(diameterMm).cuts['c'])).toEqual([560, 588, 801]);
    expect(at(12).pieces[0]?.steps.at(-1)?.text).toBe(
      '500 along its branches cut as 790.57, as it shortens: 100 mm become 63.25 at 12 mm, calculated from the widest bundle that it holds; + trim 2 × 5 = 800.57 → 801 mm',
    );
  });

  // ASTM D2671 as makers quote it: with −10 % a cut of 100 covers 90.
  test('of heat-shrink that shortens is cut so much longer', () => {
    const shrink = sleeve('s', 'heatShrink', {
      boreMm: 12.7,
      recoveredBoreMm: 6.4,
      lengthwiseChangePercent: -10,
    });
    const { cuts } = worked(
      loomOf({
        toB: [8],
        parts: [shrink],
        coverings: [over('heatShrink', 's', { over: ['leg'], overlapEndMm: 40 })],
      }),
    );
    expect(cuts).toEqual({ c: 600 });
  });
});

describe('tape', () => {
  const settings = (tapeExtraTurns: number, tapeOverlapPercent = 50) => ({
    tapeExtraTurns,
    tapeOverlapPercent,
  });

  // mathforum.org 55266, with half of its width over itself: 3306.9 mm on 1000 mm of 10 mm; 1.5 times that.
  test('over branches is as long as its spiral', () => {
    const { cuts } = worked(
      loomOf({
        toB: [10],
        parts: [tape('t')],
        coverings: [over('tape', 't')],
        loom: { settings: settings(0) },
      }),
    );
    expect(cuts).toEqual({ c: 4961 });
  });

  test('turns in one place at start, end and each breakout, less as it stretches', () => {
    const cutOf = (more: Partial<CoveringInput>, figures = {}) =>
      worked(
        loomOf({
          toB: [10],
          parts: [tape('t', figures)],
          coverings: [over('tape', 't', more)],
          loom: { settings: settings(2) },
        }),
      ).cuts['c'];
    // 500 × 3.3069 = 1653.47; 2 × 2 turns of 31.416 = 125.66.
    expect(cutOf({ over: ['leg'] })).toBe(1780);
    // 1500 × 3.3069 = 4960.41; 2 turns at start, end and where the spur leaves: 188.50.
    expect(cutOf({})).toBe(5149);
    expect(cutOf({}, { stretchPercent: 10 })).toBe(4681);
  });

  test('lies half over itself and turns three times in one place, where no setting says otherwise', () => {
    const { cuts } = worked(
      loomOf({ toB: [10], parts: [tape('t')], coverings: [over('tape', 't', { over: ['leg'] })] }),
    );
    // 500 × 3.3069 = 1653.47; 2 × 3 turns of 31.416 = 188.50.
    expect(cuts).toEqual({ c: 1842 });
  });

  test('of a stated length is that long; over what is not known at all it is not bought, and told', () => {
    const { over: _none, ...stated } = over('tape', 't', { lengthMm: 2000 });
    expect(worked(loomOf({ parts: [tape('t')], coverings: [stated] })).cuts).toEqual({ c: 2000 });
    const { cuts, told } = worked(loomOf({ parts: [tape('t')], coverings: [over('tape', 't')] }));
    expect(cuts).toEqual({});
    expect(told).toEqual(['warning length-not-stated covering:c']);
  });
});
