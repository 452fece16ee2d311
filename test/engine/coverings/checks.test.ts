import { describe, expect, test } from 'vitest';
import { loomOf, sleeve, tape, worked, type CoveringInput } from './loom.ts';

const told = (part: ReturnType<typeof sleeve>, diameter: number, more: Partial<CoveringInput> = {}) =>
  worked(
    loomOf({
      toB: [diameter],
      parts: [part],
      coverings: [{ id: 'c', kind: 'other', part: part.code, over: ['leg'], ...more }],
    }),
  ).told;

const TIGHT = ['stop covering-too-tight covering:c'];
const LOOSE = ['warning covering-too-loose covering:c'];

describe('a sleeve', () => {
  test('of PVC is too tight under the bundle and its clearance, which grows as it is threaded', () => {
    const pvc = sleeve('s', 'pvc', { boreMm: 9 });
    // 8 × 1.125 = 9.00 over half a metre; 8 × 1.15 over a metre.
    expect(told(pvc, 8)).toEqual([]);
    expect(told(pvc, 8, { over: ['trunk'] })).toEqual(TIGHT);
    expect(told(pvc, 8.01)).toEqual(TIGHT);
  });

  test('of PVC is loose at more than twice the bundle', () => {
    expect(told(sleeve('s', 'pvc', { boreMm: 9 }), 4.5)).toEqual([]);
    expect(told(sleeve('s', 'pvc', { boreMm: 9 }), 4.47)).toEqual(LOOSE);
  });

  test('of braid is held to what it states, and a hair under it is not told', () => {
    const braid = sleeve('s', 'braided', { holdsMinMm: 6, holdsMaxMm: 12 });
    expect([6, 12, 5.402].map((diameter) => told(braid, diameter))).toEqual([[], [], []]);
    expect(told(braid, 12.1)).toEqual(TIGHT);
    expect(told(braid, 5.398)).toEqual(LOOSE);
    // Without a stated range, its threads are square to its length at D/sin 30°, 20 mm.
    const angled = sleeve('s', 'braided', { restDiameterMm: 10, braidAngleDeg: 30 });
    expect([told(angled, 19.9), told(angled, 20.1)]).toEqual([[], TIGHT]);
  });

  // NASA-STD-8739.4 §9.8.1
  test('of heat-shrink goes over by its least bore as supplied, and grips by its greatest when shrunk', () => {
    const shrink = sleeve('s', 'heatShrink', { boreMm: 12.7, recoveredBoreMm: 6.4 });
    expect([told(shrink, 12.69), told(shrink, 12.7)]).toEqual([[], TIGHT]);
    expect([told(shrink, 6.5), told(shrink, 6.4)]).toEqual([[], LOOSE]);
  });

  test('that states nothing, or a length and no branches, is not checked', () => {
    expect(told(sleeve('s', 'pvc'), 8)).toEqual([]);
    expect(told(sleeve('s', 'heatShrink'), 8)).toEqual([]);
    const bare = loomOf({
      toB: [8],
      parts: [sleeve('s', 'pvc', { boreMm: 1 })],
      coverings: [{ id: 'c', kind: 'pvc', part: 's', lengthMm: 500 }],
    });
    expect(worked(bare).told).toEqual([]);
  });
});

test('bores that come out even are in order, whatever floating point leaves in the last digits', () => {
  // In floating point 1.2 + 2.1 is 3.3000000000000003, and 2.1 × 1.4 is 2.9399999999999995.
  const pair = (part: ReturnType<typeof sleeve>) =>
    worked(
      loomOf({
        toB: [1.2, 2.1],
        parts: [part, { kind: 'fitting', code: 'g', description: 'g', fittingType: 'grommet', boreMm: 3.3 }],
        coverings: [{ id: 'c', kind: 'other', part: part.code, over: ['leg'] }],
        loom: part.code === 's' ? {} : { coverings: [], fittings: [{ part: 'g', branch: 'leg' }] },
      }),
    ).told;
  expect(pair(sleeve('s', 'heatShrink', { boreMm: 3.3, recoveredBoreMm: 1 }))).toEqual(TIGHT);
  expect(pair(sleeve('s', 'heatShrink', { boreMm: 3.4, recoveredBoreMm: 1 }))).toEqual([]);
  expect(pair(sleeve('s', 'braided', { holdsMaxMm: 3.3 }))).toEqual([]);
  expect(pair(sleeve('unused', 'pvc'))).toEqual([]);
  const loose = loomOf({
    toB: [2.1],
    parts: [sleeve('s', 'pvc', { boreMm: 2.94 })],
    coverings: [{ id: 'c', kind: 'pvc', part: 's', over: ['leg'] }],
    loom: { settings: { sleeveLoosePercent: 40 } },
  });
  expect(worked(loose).told).toEqual([]);
});

test('tape over branches of which some diameter is not known is told to be too little', () => {
  const job = loomOf({
    toB: [8],
    parts: [tape('t')],
    coverings: [{ id: 'c', kind: 'tape', part: 't', over: ['trunk', 'leg'] }],
  });
  const [loom] = job.looms;
  const [known] = loom?.wires ?? [];
  if (!loom || !known) throw new Error('no wire');
  loom.wires.push({ ...known, id: 'X', cableType: 'nobody-knows', to: { point: 'C', join: 'bare' } });
  expect(worked(job).told).toEqual(['warning tape-over-unknown covering:c']);
});

test('coverings that lie over each other in a ring are told, each, and those beside them are not', () => {
  const { told: findings } = worked(
    loomOf({
      toB: [4],
      parts: [sleeve('s', 'braided')],
      coverings: (['a', 'b', 'c', 'd'] as const).map((id) => ({
        id,
        kind: 'braided',
        part: 's',
        over: ['leg'],
        ...(id === 'd' ? {} : { outer: { a: 'b', b: 'c', c: 'b' }[id] }),
      })),
    }),
  );
  expect(findings).toEqual([
    'warning coverings-in-a-ring covering:b',
    'warning coverings-in-a-ring covering:c',
  ]);
});

test('a grommet is too small by the bundle with its coverings; a tie round it, and one beside a branch, are not checked', () => {
  const fitting = (code: string, fittingType: 'grommet' | 'tie', boreMm: number) =>
    ({ kind: 'fitting', code, description: code, fittingType, boreMm }) as const;
  const { told: findings } = worked(
    loomOf({
      toB: [8],
      parts: [
        sleeve('s', 'braided', { wallMm: 0.5 }),
        fitting('g-9', 'grommet', 9),
        fitting('g-8', 'grommet', 8.9),
        fitting('tie', 'tie', 2),
      ],
      coverings: [{ id: 'c', kind: 'braided', part: 's', over: ['leg'] }],
      loom: {
        fittings: [
          { part: 'g-9', branch: 'leg' },
          { part: 'g-8', branch: 'leg' },
          { part: 'g-8', branch: 'trunk' },
          { part: 'g-8' },
          { part: 'tie', branch: 'leg' },
        ],
      },
    }),
  );
  expect(findings).toEqual(['warning fitting-too-small fitting:g-8@leg']);
});
