import { expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { branchedJob } from './branchedLoom.ts';

const unhurried = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };
const rolled = () =>
  rollUp(normaliseJob(Job.parse(branchedJob({ wires: 2000, branches: 80, looms: 2, seed: 7 }))), unhurried);

test('a big loom in order with branches is worked whole, and nothing is found wrong with it', () => {
  const { requirements, findings, branches } = rolled();
  expect(findings).toEqual([]);
  const wires = requirements.flatMap((need) => (need.kind === 'wire' ? need.pieces : []));
  expect(wires).toHaveLength(4000);
  const pins = requirements.find(({ id }) => id === 'part:pin');
  expect(pins?.kind === 'count' && pins.used).toBe(8000);
  const braids = requirements.flatMap((need) => (need.kind === 'length' ? need.pieces : []));
  const filled = ['loom-1', 'loom-2']
    .flatMap((loom) => branches.of(loom))
    .filter(({ wires: along }) => along.length > 0);
  expect(braids).toHaveLength(filled.length);
  expect(filled.length).toBeGreaterThan(120);
});
