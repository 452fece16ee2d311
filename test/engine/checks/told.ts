import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import type { Finding } from '../../../worker/engine/model/finding.ts';
import type { Job, JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf, unhurried, wire, wirePart } from '../fixtures.ts';

export type PartInput = JobInput['parts'][number];
export type LoomInput = JobInput['looms'][number];
export type WireInput = NonNullable<LoomInput['wires']>[number];
export type EndInput = WireInput['from'];
export type PointInput = NonNullable<LoomInput['points']>[number];

/** What is found in a job by the roll-up with all its checks, of these codes; without codes everything. */
export function foundIn(job: Job, ...codes: string[]): Finding[] {
  const { findings } = rollUp(normaliseJob(job), unhurried);
  return codes.length === 0 ? findings : findings.filter(({ code }) => codes.includes(code));
}

/** Each finding in short: its code and what it was found at. */
export function told(job: Job, ...codes: string[]): string[] {
  return foundIn(job, ...codes).map(({ code, subject }) => `${code} ${subject ?? ''}`);
}

/** A connector A with wires of one circuit that run to the flying lead Z, one for each end given. */
export function connector(
  parts: PartInput[],
  ends: Partial<EndInput>[],
  point: Partial<PointInput> = {},
  more: Partial<JobInput> & { loom?: Partial<LoomInput> } = {},
): Job {
  return jobOf({
    parts,
    ...more,
    loom: {
      points: [
        { id: 'A', kind: 'connector', ...point },
        { id: 'Z', kind: 'flyingLead' },
      ],
      wires: ends.map((from, index) =>
        wire(`W${index + 1}`, {
          from: { point: 'A', join: 'crimp', ...from },
          to: { point: 'Z', way: `${index + 1}`, join: 'bare' },
          circuit: 'one',
        }),
      ),
      ...more.loom,
    },
  });
}

/** The fixtures' red wire of 1 mm² with this outside diameter. */
export const wireOf = (outsideDiameterMm: number): PartInput => ({
  ...wirePart('red'),
  kind: 'wire',
  cableType: 'thin-wall',
  size: { system: 'mm2', areaMm2: 1 },
  colour: { base: 'red' },
  outsideDiameterMm,
});

export const terminalOf = (
  code: string,
  figures: Partial<Extract<PartInput, { kind: 'terminal' }>> = {},
): PartInput => ({
  kind: 'terminal',
  code,
  description: `Terminal ${code}`,
  terminalType: 'blade',
  ...figures,
});

export const sealOf = (
  code: string,
  figures: Partial<Extract<PartInput, { kind: 'seal' }>> = {},
): PartInput => ({ kind: 'seal', code, description: `Seal ${code}`, ...figures });

export const housingOf = (
  code: string,
  figures: Partial<Extract<PartInput, { kind: 'housing' }>> = {},
): PartInput => ({ kind: 'housing', code, description: `Housing ${code}`, ways: 4, ...figures });

export const joinerOf = (
  code: string,
  figures: Partial<Extract<PartInput, { kind: 'joiner' }>> = {},
): PartInput => ({
  kind: 'joiner',
  code,
  description: `Joiner ${code}`,
  joinerType: 'sleeve',
  positions: 2,
  ...figures,
});

/** An end in this terminal. */
export const inTerminal = (part: string, more: Partial<EndInput> = {}): Partial<EndInput> => ({
  terminal: { part },
  ...more,
});
