import { expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf } from '../fixtures.ts';
import { foundIn, housingOf } from './told.ts';

type Doubted = NonNullable<JobInput['doubtedFits']>;

/** Two halves plugged together, with what is in doubt of them. */
const halves = (doubtedFits: Doubted, status: 'confirmed' | 'refuted' = 'confirmed') => ({
  ...jobOf({
    parts: [housingOf('one', {}), housingOf('other', {})],
    fits: [{ from: 'one', relation: 'mates', to: 'other', status }],
    loom: {
      points: [
        { id: 'A', kind: 'connector', part: 'one', matedTo: { point: 'B' } },
        { id: 'B', kind: 'connector', part: 'other' },
      ],
    },
  }),
  doubtedFits,
});

test('halves that mate are in doubt whichever half the report names first, and are told once', () => {
  for (const [from, to] of [
    ['one', 'other'],
    ['other', 'one'],
  ] as const)
    expect(foundIn(halves([{ from, relation: 'mates', to }]), 'fit-doubted')).toMatchObject([
      { severity: 'warning', subject: 'point:A', at: '/looms/0/points/0/matedTo' },
    ]);
});

test('what is refuted is no longer in doubt, and what the loom does not use is not told', () => {
  expect(
    foundIn(halves([{ from: 'one', relation: 'mates', to: 'other' }], 'refuted'), 'fit-doubted'),
  ).toEqual([]);
  expect(foundIn(halves([{ from: 'one', relation: 'covers', to: 'other' }]), 'fit-doubted')).toEqual([]);
});
