import { describe, expect, test } from 'vitest';
import { quoteJob } from '../../worker/engine/engine.ts';
import { Job } from '../../worker/engine/model/job.ts';
import { unhurried } from '../engine/fixtures.ts';
import { SLIPS, type Slip } from './slips.ts';
import { tractor, type Tractor } from './tractor.ts';

/** What a quote finds, but for what it tells of the way in which it buys. */
async function foundIn(job: Tractor): Promise<string[]> {
  const { findings } = (await quoteJob(Job.parse(job), unhurried)).result();
  return findings.map(({ code, subject = '' }) => `${code} ${subject}`).sort();
}

function planted(slips: readonly Slip[]): Tractor {
  const job = tractor();
  for (const { plant } of slips) plant(job);
  return job;
}

describe('a loom of which nothing is wrong', () => {
  test('has nothing told', async () => {
    expect(await foundIn(tractor())).toEqual([]);
  });
});

describe('a slip is found, and nothing else is', () => {
  test.each(SLIPS.map((slip) => [slip.name, slip] as const))('%s', async (_name, slip) => {
    expect(await foundIn(planted([slip]))).toEqual([...slip.found].sort());
  });
});

test('of twenty slips and more in one loom each is found', async () => {
  const together = SLIPS.filter(({ alone }) => !alone);
  expect(together.length).toBeGreaterThanOrEqual(20);
  const found = await foundIn(planted(together));
  for (const { name, found: own } of together) expect(found, name).toEqual(expect.arrayContaining(own));
});
