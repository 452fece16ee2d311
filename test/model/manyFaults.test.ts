import { expect, test } from 'vitest';
import { faultsOf } from '../../worker/engine/model/faults.ts';
import { LIMITS } from '../../worker/engine/model/limits.ts';
import { readJob } from '../../worker/engine/model/upgrade.ts';
import { jobOf, points, wire } from '../engine/fixtures.ts';

test('a job with more faults than can be gathered is refused with one that says so', () => {
  const options = Array.from({ length: 12 }, (_, at) => `option ${at}`);
  const wires = Array.from({ length: LIMITS.wires }, (_, at) => wire(`W${at}`, { options }));
  const sound = jobOf({ loom: { points: points('A', 'B') } });
  const read = readJob({ ...sound, looms: sound.looms.map((loom) => ({ ...loom, wires })) });
  expect(read.success).toBe(false);
  const faults = read.success ? [] : faultsOf(read.error, undefined);
  expect(faults.map(({ code }) => code)).toEqual(['too-many-faults']);
  expect(faults[0]?.todo).toContain('too many faults to list');
});
