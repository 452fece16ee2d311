import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { quoteJob } from '../../../worker/engine/engine.ts';
import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import { Job } from '../../../worker/engine/model/job.ts';
import { bigJob } from '../../support/bigLoom.ts';
import { branchedJob } from '../../support/branchedLoom.ts';
import { unhurried } from '../fixtures.ts';
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

/** Of looms drawn by lot these two are true: colours clash, and nobody says where current comes in. */
const TRUE_OF_LOTS = ['colour-on-two-circuits', 'feed-not-stated'];

test('nothing is told of 200 flat looms of any size, whose lengths are drawn by lot', () => {
  for (let seed = 1; seed <= 200; seed += 1) {
    const job = bigJob({ wires: [5, 12, 30, 60][seed % 4] ?? 5, suppliers: 0, seed });
    const { findings } = rollUp(normaliseJob(Job.parse(job)), unhurried);
    const codes = findings.map(({ code }) => code).filter((code) => !TRUE_OF_LOTS.includes(code));
    expect([seed, codes]).toEqual([seed, []]);
  }
});

test('no price is asked about in price lists drawn by lot', async () => {
  for (let seed = 1; seed <= 25; seed += 1) {
    const job = Job.parse(bigJob({ wires: 20, suppliers: 6, seed }));
    const { findings } = (await quoteJob(job, { ...unhurried, remainingMs: () => 0 })).result();
    expect([seed, findings.filter(({ code }) => code.startsWith('price-unlike'))]).toEqual([seed, []]);
  }
});

test('nothing is asked about in looms with branches', () => {
  const job = branchedJob({ wires: 120, branches: 30, looms: 5, seed: 1 });
  expect(told(Job.parse(job), ...CODES)).toEqual([]);
});
