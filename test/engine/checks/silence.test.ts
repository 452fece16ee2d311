import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { Job } from '../../../worker/engine/model/job.ts';
import { bigJob } from '../../support/bigLoom.ts';
import { branchedJob } from '../../support/branchedLoom.ts';
import { told } from './told.ts';

/** What asks whether a slip was made: where none was, it is silent. */
const CODES = [
  ...['wire-entered-twice', 'wire-length-doubtful', 'covering-length-doubtful', 'part-counted-twice'],
  ...['terminals-uncovered', 'rings-differ', 'ring-too-small', 'ring-too-large', 'cover-too-small'],
];

const EXAMPLES = ['three-wires/job', 'trailer/job', 'from-abroad/job', 'van/job', 'van/second-revision'];

test.each(EXAMPLES)('nothing is asked about in the example %s', (name) => {
  const text = readFileSync(new URL(`../../../examples/${name}.json`, import.meta.url), 'utf8');
  expect(told(Job.parse(JSON.parse(text)), ...CODES)).toEqual([]);
});

test('nothing is asked about in flat looms of any size, whose lengths are drawn by lot', () => {
  for (let seed = 1; seed <= 60; seed += 1) {
    const job = bigJob({ wires: [5, 12, 30, 60][seed % 4] ?? 5, suppliers: 0, seed });
    expect([seed, told(Job.parse(job), ...CODES)]).toEqual([seed, []]);
  }
});

test('nothing is asked about in looms with branches', () => {
  const job = branchedJob({ wires: 120, branches: 30, looms: 5, seed: 1 });
  expect(told(Job.parse(job), ...CODES)).toEqual([]);
});
