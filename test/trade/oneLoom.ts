import { normaliseJob } from '../../worker/engine/job/normalise.ts';
import { rollUp, type RollUp } from '../../worker/engine/loom/rollUp.ts';
import { Job, type JobInput } from '../../worker/engine/model/job.ts';

type LoomInput = JobInput['looms'][number];
type WireInput = NonNullable<LoomInput['wires']>[number];

const unhurried = { remainingMs: () => Infinity, cancelled: () => false, report: () => undefined };

/** What is needed for one loom with points A and B, and what is found in it, by the settings as they stand. */
export function rolledUp(loom: Partial<LoomInput>, given: Partial<JobInput> = {}): RollUp {
  const points = ['A', 'B'].map((id) => ({ id, kind: 'connector' as const }));
  const job = Job.parse({
    format: 'loomwright-job',
    version: 1,
    asOf: '2026-03-02',
    club: { currency: 'GBP' },
    parts: [],
    suppliers: [],
    offers: [],
    looms: [{ code: 'l', name: 'Test loom', points, ...loom }],
    request: { looms: [{ loom: 'l', quantity: 1 }] },
    ...given,
  } satisfies JobInput);
  return rollUp(normaliseJob(job), unhurried);
}

/** A red thin-wall wire of 1 mm² from A to B. */
export function wire(given: Partial<WireInput>): WireInput {
  return {
    id: '1',
    cableType: 'thin-wall',
    size: { system: 'mm2', areaMm2: 1 },
    colour: { base: 'red' },
    from: { point: 'A', join: 'bare' },
    to: { point: 'B', join: 'bare' },
    ...given,
  };
}

/** What is cut of sleeves and tapes, without spares, mm. */
export function coveringsMm({ requirements }: RollUp): number {
  return requirements
    .flatMap((need) => (need.kind === 'length' ? need.pieces : []))
    .reduce((sum, { cutMm, count }) => sum + cutMm * count, 0);
}
