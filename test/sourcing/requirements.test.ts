import { expect, test } from 'vitest';
import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp } from '../../worker/engine/loom/rollUp.ts';
import type { Job } from '../../worker/engine/model/job.ts';
import { unhurried } from '../engine/fixtures.ts';
import { wantedBy } from './instanceLooms.ts';
import { requirementsOf, parsedJob } from './requirements.ts';
import { randomFrom } from './random.ts';

/** A job of one or two small looms, under settings of cutting and of spares that change from seed to seed. */
function jobOf(seed: number): Job {
  const random = randomFrom(seed);
  const { parts, looms, quantities } = wantedBy(random);
  return parsedJob({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-11-30',
    club: {
      currency: 'GBP',
      settings: {
        cuttingStepMm: random.pick([1, 5]),
        spareMinimum: random.whole(0, 2),
        spareWirePercent: seed % 3 === 0 ? 12.5 : 0,
        spareWirePieces: seed % 4 === 0 ? 1 : 0,
        spareConfidencePercent: seed % 5 === 0 ? 99 : 0,
      },
    },
    parts,
    suppliers: [],
    offers: [],
    looms,
    request: { looms: quantities, settings: { sparePercent: random.pick([0, 5, 12.5]) } },
  });
}

test('what 400 small looms need is what the rules of arithmetic make of them', () => {
  for (let seed = 1; seed <= 400; seed += 1) {
    const job = jobOf(seed);
    const found = rollUp(normaliseJob(job), unhurried).requirements.map((requirement) =>
      requirement.kind === 'count'
        ? `${requirement.part} ${requirement.quantity}`
        : `wire ${requirement.kind === 'wire' ? requirement.colour.base : requirement.part} ${requirement.totalMm}`,
    );
    const ours = requirementsOf(job).map((requirement) =>
      requirement.kind === 'wire'
        ? `wire ${requirement.colour} ${requirement.totalMm}`
        : `${requirement.part} ${requirement.quantity}`,
    );
    expect([seed, found.sort()]).toEqual([seed, ours.sort()]);
  }
});
