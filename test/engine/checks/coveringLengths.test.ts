import { describe, expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf, points, wire } from '../fixtures.ts';
import { foundIn } from './told.ts';

type CoveringInput = NonNullable<JobInput['looms'][number]['coverings']>[number];

const PARTS = [
  { kind: 'sleeve' as const, code: 'shrink', description: 'Heat-shrink', sleeveType: 'heatShrink' as const },
  { kind: 'tape' as const, code: 'tape', description: 'Tape', tapeType: 'cloth' as const, widthMm: 19 },
];
const found = (kind: 'heatShrink' | 'tape', lengths: number[], loom: object = {}) => {
  const coverings = lengths.map((lengthMm, at): CoveringInput => {
    return { id: `C${at}`, kind, part: kind === 'tape' ? 'tape' : 'shrink', lengthMm };
  });
  const wires = [wire('1', { length: { mm: 1200, basis: 'route' } })];
  return foundIn(
    jobOf({ parts: PARTS, loom: { points: points('A', 'B', 'C'), wires, coverings, ...loom } }),
    'covering-length-doubtful',
  );
};
const told = (...of: Parameters<typeof found>) => found(...of).map(({ subject }) => subject);

describe('the stated length of a covering', () => {
  test('is told beyond twice the longest wire', () => {
    expect(told('heatShrink', [2400])).toEqual([]);
    expect(found('heatShrink', [2401])).toMatchObject([
      {
        severity: 'warning',
        subject: 'covering:C0',
        at: '/looms/0/coverings/0/lengthMm',
        found: '2401 mm; the longest wire of the loom is 1200 mm',
        limit: 'at most 2400 mm, twice that',
      },
    ]);
  });

  test('is held against ways along branches and against cables too, and against nothing where none is known', () => {
    const branches = [{ id: 'b', from: 'A', to: 'B', lengthMm: 3000 }];
    expect(told('heatShrink', [6000], { branches })).toEqual([]);
    expect(told('heatShrink', [6001], { branches })).toEqual(['covering:C0']);
    const cables = [{ id: 'k', length: { mm: 3000, basis: 'route' } }];
    expect(told('heatShrink', [6000], { cables })).toEqual([]);
    expect(told('heatShrink', [6000], { wires: [] })).toEqual([]);
  });

  test('is told at ten times the longest of three others of its kind, which of tape is the only limit', () => {
    expect(told('heatShrink', [40, 55, 60, 599])).toEqual([]);
    expect(told('heatShrink', [40, 55, 60, 600])).toEqual(['covering:C3']);
    expect(told('heatShrink', [55, 60, 600])).toEqual([]);
    expect(told('tape', [40_000])).toEqual([]);
    expect(told('tape', [1500, 900, 4000, 40_000])).toEqual(['covering:C3']);
  });
});
