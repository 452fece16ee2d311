import fc from 'fast-check';
import { expect, test } from 'vitest';
import { loomOf, sleeve, tape, worked, type CoveringInput } from './loom.ts';

const PARTS = [
  sleeve('braid-angle', 'braided', { restDiameterMm: 6, braidAngleDeg: 30 }),
  sleeve('braid-table', 'braided', {
    shortensTo: [
      { openedToMm: 5, per100Mm: 95 },
      { openedToMm: 30, per100Mm: 60 },
    ],
  }),
  sleeve('braid', 'braided', { holdsMinMm: 2, holdsMaxMm: 40 }),
  sleeve('pvc', 'pvc', { boreMm: 20 }),
  sleeve('shrink', 'heatShrink', { boreMm: 40, recoveredBoreMm: 2, lengthwiseChangePercent: -7 }),
  tape('tape', { stretchPercent: 5, thicknessMm: 0.3 }),
];
const KINDS = { braided: 'braid', pvc: 'pvc', heatShrink: 'shrink', tape: 'tape' } as const;

/** Outside diameters in tenths of a millimetre; one that no table knows stands as NaN. */
const diameters = fc.array(
  fc.integer({ min: 10, max: 60 }).map((tenths) => tenths / 10),
  { maxLength: 8 },
);
const covering = fc.record({
  part: fc.constantFrom(...PARTS.map(({ code }) => code)),
  over: fc.constantFrom<string[]>(
    ['trunk'],
    ['leg'],
    ['spur'],
    ['trunk', 'leg'],
    ['spur', 'trunk'],
    ['leg', 'spur'],
  ),
  overlapEndMm: fc.constantFrom(0, 15),
  outer: fc.option(fc.nat(3), { nil: undefined }),
});

/** The outer one always comes later, so that there is no ring. */
function coveringsOf(list: readonly { outer: number | undefined }[], name: (index: number) => string) {
  return list.map(({ outer, ...rest }, index) => ({
    kind: 'other' as const,
    ...rest,
    id: name(index),
    ...(outer !== undefined && index + 1 + outer < list.length ? { outer: name(index + 1 + outer) } : {}),
  })) as CoveringInput[];
}

test('a wire more never lowers the length of a covering whose part is stated, layers and all', () => {
  let longer = 0;
  fc.assert(
    fc.property(
      diameters,
      diameters,
      fc.array(covering, { minLength: 1, maxLength: 4 }),
      fc.integer({ min: 10, max: 60 }),
      fc.boolean(),
      (toB, toC, list, tenths, atB) => {
        const coverings = coveringsOf(list, (index) => `c${index}`);
        const one = [tenths / 10];
        const before = worked(loomOf({ toB, toC, parts: PARTS, coverings })).cuts;
        const after = worked(
          loomOf({
            toB: atB ? [...toB, ...one] : toB,
            toC: atB ? toC : [...toC, ...one],
            parts: PARTS,
            coverings,
          }),
        ).cuts;
        for (const [id, cutMm] of Object.entries(before)) {
          expect(after[id]).toBeGreaterThanOrEqual(cutMm);
          if ((after[id] ?? 0) > cutMm) longer++;
        }
      },
    ),
    { numRuns: 100 },
  );
  expect(longer).toBeGreaterThan(10);
});

test('a wire of unknown diameter lowers none either', () => {
  fc.assert(
    fc.property(diameters, fc.array(covering, { minLength: 1, maxLength: 4 }), (toB, list) => {
      const job = () => loomOf({ toB, toC: [2], parts: PARTS, coverings: coveringsOf(list, (i) => `c${i}`) });
      const more = job();
      const [wire] = more.looms[0]?.wires ?? [];
      if (!wire) throw new Error('no wire');
      more.looms[0]?.wires.push({ ...wire, id: 'X', cableType: 'nobody-knows' });
      const after = worked(more).cuts;
      for (const [id, cutMm] of Object.entries(worked(job()).cuts))
        expect(after[id]).toBeGreaterThanOrEqual(cutMm);
    }),
    { numRuns: 100 },
  );
});

test('every covering stands once, cut or told, whether its part is stated or chosen', () => {
  let cut = 0;
  let told = 0;
  fc.assert(
    fc.property(
      diameters,
      fc.array(fc.tuple(covering, fc.option(fc.constantFrom(...Object.keys(KINDS)), { nil: undefined })), {
        minLength: 1,
        maxLength: 5,
      }),
      (toB, list) => {
        const coverings = coveringsOf(
          list.map(([item]) => item),
          (index) => `c${index}`,
        ).map((item, index): CoveringInput => {
          const kind = list[index]?.[1];
          if (kind === undefined) return item;
          const { part: _none, ...rest } = item;
          return { ...rest, kind: kind as CoveringInput['kind'] };
        });
        const { pieces, findings } = worked(loomOf({ toB, parts: PARTS, coverings }));
        for (const { id } of coverings) {
          const own = pieces.filter(({ what }) => what === `covering ${id}`).length;
          const not = findings.filter(
            ({ code, subject }) =>
              subject === `covering:${id}` && ['covering-not-chosen', 'length-not-stated'].includes(code),
          ).length;
          expect(own + not).toBe(1);
          cut += own;
          told += not;
        }
      },
    ),
    { numRuns: 100 },
  );
  expect(Math.min(cut, told)).toBeGreaterThan(10);
});

test('other names, in another order, change no length, part or diameter', () => {
  fc.assert(
    fc.property(diameters, fc.array(covering, { minLength: 2, maxLength: 4 }), (toB, list) => {
      const of = (name: (index: number) => string, wires: number[], turned: boolean) => {
        const coverings = coveringsOf(list, name);
        const result = worked(
          loomOf({
            toB: wires,
            toC: [3],
            parts: PARTS,
            coverings: turned ? [...coverings].reverse() : coverings,
          }),
        );
        return {
          cuts: list.map((_, index) => result.cuts[name(index)]),
          covered: ['trunk', 'leg', 'spur'].map((id) => result.branch(id)?.coveredMm),
        };
      };
      expect(of((index) => `z${9 - index}`, [...toB].reverse(), true)).toEqual(
        of((index) => `a${index}`, toB, false),
      );
    }),
    { numRuns: 100 },
  );
});
