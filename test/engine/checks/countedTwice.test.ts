import { expect, test } from 'vitest';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf } from '../fixtures.ts';
import { foundIn } from './told.ts';

type LoomInput = Partial<JobInput['looms'][number]>;

const clip = (code: string) => ({
  kind: 'fitting' as const,
  code,
  description: 'Clip',
  fittingType: 'clip' as const,
});
const found = (loom: LoomInput) =>
  foundIn(jobOf({ parts: [clip('clip'), clip('tie')], loom }), 'part-counted-twice');

test('a part under fittings and again in the list of parts is told once, with both counts', () => {
  const findings = found({
    fittings: [{ part: 'clip', quantity: 4 }, { part: 'clip' }],
    parts: [
      { part: 'tie', quantity: 9 },
      { part: 'clip', quantity: 5 },
      { part: 'clip', quantity: 1 },
    ],
  });
  expect(findings).toMatchObject([
    {
      severity: 'warning',
      subject: 'part:clip',
      at: '/looms/0/parts/0',
      found: 'clip (Clip): 5 under fittings and 6 in the list of parts, 11 in all',
    },
  ]);
});

test('a part that stands in one of the two alone, however often, is not told', () => {
  const parts = [
    { part: 'tie', quantity: 9 },
    { part: 'tie', quantity: 2 },
  ];
  expect(found({ fittings: [{ part: 'clip' }, { part: 'clip', quantity: 4 }], parts })).toEqual([]);
});

test('what stands there only with an option that is not chosen is not counted, and not told', () => {
  const loom = {
    options: ['tow'],
    fittings: [{ part: 'clip' }],
    parts: [{ part: 'clip', quantity: 1, options: ['tow'] }],
  };
  expect(found(loom)).toEqual([]);
});
