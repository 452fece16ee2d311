import { describe, expect, test } from 'vitest';
import { byTheMetre, supplier } from '../fixtures.ts';
import { loomOf, sleeve, tape, worked, type CoveringInput } from './loom.ts';

const auto = (kind: CoveringInput['kind'], more: Partial<CoveringInput> = {}): CoveringInput => ({
  id: 'c',
  kind,
  over: ['leg'],
  ...more,
});
const braids = [
  sleeve('braid-12', 'braided', { holdsMinMm: 6, holdsMaxMm: 12 }),
  sleeve('braid-9', 'braided', { holdsMinMm: 4, holdsMaxMm: 9, shade: 'black' }),
  sleeve('braid-5', 'braided', { holdsMinMm: 2, holdsMaxMm: 5 }),
];
const bores = [3, 4, 5, 6, 8].map((boreMm) => sleeve(`pvc-${boreMm}`, 'pvc', { boreMm }));
const chosen = (kind: CoveringInput['kind'], diameter: number, more: Partial<CoveringInput> = {}) =>
  worked(loomOf({ toB: [diameter], parts: [...braids, ...bores], coverings: [auto(kind, more)] }));

describe('a covering without a part', () => {
  test('gets the smallest that fits, with the reason', () => {
    expect(chosen('braided', 7).chosen).toEqual({ c: 'braid-9' });
    // 4.0 + 10 % + half of 5 % is 4.5.
    expect(chosen('pvc', 4).chosen).toEqual({ c: 'pvc-5' });
    expect(chosen('braided', 7).pieces[0]?.steps[0]).toEqual({
      rule: 'chosen',
      text: 'bundle 7 mm, of 1 wire; braid-9 holds 4 to 9 mm; the next smaller, braid-5, holds 2 to 5 mm',
      value: 1,
      unit: 'pieces',
    });
  });

  test('gets one that is sold before a smaller one that is not, in a condition that is accepted', () => {
    const of = (offers: object[]) =>
      worked(
        loomOf({
          toB: [7],
          parts: braids,
          coverings: [auto('braided')],
          job: { suppliers: [supplier('s')], offers: offers as never },
        }),
      );
    const larger = byTheMetre('o', 's', 'braid-12', '1');
    const used = { ...byTheMetre('p', 's', 'braid-9', '1'), condition: 'used' };
    const bought = of([larger, used]);
    expect(bought.chosen).toEqual({ c: 'braid-12' });
    expect(bought.pieces[0]?.steps[0]?.text).toContain('braid-9 is smaller, but no offer sells it');
    expect(of([larger, byTheMetre('p', 's', 'braid-9', '1')]).chosen).toEqual({ c: 'braid-9' });
  });

  test('gets none that the checks would call loose, and the figure is told; named, it is bought all the same', () => {
    // The narrowest bore is 3 mm: over 1.5 mm it is twice as wide, and over less it is loose.
    expect(chosen('pvc', 1.5).chosen).toEqual({ c: 'pvc-3' });
    const { chosen: taken, findings } = chosen('pvc', 1.4);
    expect(taken).toEqual({});
    expect(findings.map(({ code }) => code)).toEqual(['covering-not-chosen']);
    expect(findings[0]?.found).toContain('pvc-3 can be threaded, but is loose: a bore of 3 mm over 1.4 mm');
    const named = chosen('pvc', 1.4, { part: 'pvc-3' });
    expect(named.findings.map(({ code }) => code)).toEqual(['covering-too-loose']);
  });

  test('gets one of its shade alone, and of its kind alone', () => {
    expect(chosen('braided', 6.5, { shade: 'black' }).chosen).toEqual({ c: 'braid-9' });
    expect(chosen('braided', 6.5, { shade: 'red' }).findings[0]?.found).toContain('no red braided sleeve');
    expect(chosen('conduit', 6.5).findings[0]?.found).toContain('the catalogue has no conduit');
  });

  test('over several branches must hold the thickest and the thinnest', () => {
    const { chosen: taken } = worked(
      loomOf({
        toB: [4.5],
        toC: [4],
        parts: braids,
        coverings: [auto('braided', { over: ['trunk', 'leg'] })],
      }),
    );
    expect(taken).toEqual({ c: 'braid-9' });
    const none = worked(
      loomOf({ toB: [3], toC: [7], parts: braids, coverings: [auto('braided', { over: ['trunk', 'leg'] })] }),
    );
    expect(none.told).toEqual(['warning covering-not-chosen covering:c']);
    expect(none.findings[0]?.found).toContain('bundle 10 mm, 3 mm at its thinnest, of 2 wires');
  });

  test('of heat-shrink must be larger than it as supplied and grip it when shrunk', () => {
    const rows = [
      sleeve('hs-64', 'heatShrink', { boreMm: 6.4, recoveredBoreMm: 3.2 }),
      sleeve('hs-95', 'heatShrink', { boreMm: 9.5, recoveredBoreMm: 4.8 }),
      sleeve('hs-127', 'heatShrink', { boreMm: 12.7, recoveredBoreMm: 6.4 }),
    ];
    const of = (diameter: number) =>
      worked(loomOf({ toB: [diameter], parts: rows, coverings: [auto('heatShrink')] })).chosen['c'];
    expect([4, 6.4, 6.5, 11, 12.7].map(of)).toEqual(['hs-64', 'hs-95', 'hs-95', 'hs-127', undefined]);
  });

  test('is not chosen where nothing is known of what it lies over, and says why', () => {
    const of = (more: Partial<CoveringInput>, toB: number[], loom = {}) =>
      worked(loomOf({ toB, parts: braids, coverings: [auto('braided', more)], loom })).findings[0]?.found;
    expect(of({ over: ['spur'] }, [7])).toContain('nothing runs along its branches');
    expect(of({ over: ['leg', 'trunk', 'leg'] }, [7])).toContain('are not connected to each other');
    const { over: _none, ...stated } = auto('braided', { lengthMm: 90 });
    const job = loomOf({ toB: [7], parts: braids, coverings: [stated] });
    expect(worked(job).findings[0]?.found).toContain('it states a length and no branches');
  });

  test('of tape is the only one there is; of two none is taken', () => {
    const of = (...parts: ReturnType<typeof tape>[]) =>
      worked(loomOf({ toB: [7], parts, coverings: [auto('tape')] }));
    expect(of(tape('t')).chosen).toEqual({ c: 't' });
    expect(of(tape('t'), tape('u')).findings[0]?.found).toContain('the catalogue has 2 of tape: t, u');
  });

  test('sees the outside of what lies beneath it, also where that was chosen, whichever is listed first', () => {
    const job = (ids: [string, string]) =>
      worked(
        loomOf({
          toB: [4],
          parts: [...braids, sleeve('pvc-6', 'pvc', { boreMm: 6, wallMm: 0.6 })],
          coverings: [
            { id: ids[0], kind: 'pvc', over: ['trunk', 'leg'], outer: ids[1] },
            { id: ids[1], kind: 'braided', over: ['leg'] },
          ],
        }),
      );
    // A bore of 6 and two walls of 0.6 are 7.2 mm, and two of braid, 0.5 each, 8.2.
    for (const ids of [
      ['a', 'b'],
      ['b', 'a'],
    ] as [string, string][]) {
      const { chosen: taken, branch } = job(ids);
      expect(taken).toEqual({ [ids[0]]: 'pvc-6', [ids[1]]: 'braid-9' });
      expect([branch('leg')?.coveredMm, branch('trunk')?.coveredMm, branch('spur')?.coveredMm]).toEqual([
        expect.closeTo(8.2, 9) as number,
        expect.closeTo(7.2, 9) as number,
        undefined,
      ]);
    }
  });
});
