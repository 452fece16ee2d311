import { normaliseJob } from '../../../worker/engine/job/normalise.ts';
import { rollUp } from '../../../worker/engine/loom/rollUp.ts';
import type { JobInput } from '../../../worker/engine/model/job.ts';
import { jobOf, points, unhurried, wire } from '../fixtures.ts';

type LoomInput = JobInput['looms'][number];
type PartInput = JobInput['parts'][number];
export type CoveringInput = NonNullable<LoomInput['coverings']>[number];

/** Wire of a made-up type whose outside diameter is its cable type's number. */
const wirePart = (outsideDiameterMm: number): PartInput => ({
  kind: 'wire',
  code: `wire-${outsideDiameterMm}`,
  description: 'Wire',
  cableType: `type-${outsideDiameterMm}`,
  size: { system: 'mm2', areaMm2: 1 },
  colour: { base: 'red' },
  outsideDiameterMm,
});

export const sleeve = (code: string, sleeveType: string, figures: object = {}): PartInput =>
  ({ kind: 'sleeve', code, description: `Sleeve ${code}`, sleeveType, ...figures }) as PartInput;
export const tape = (code: string, figures: object = {}): PartInput => ({
  kind: 'tape',
  code,
  description: `Tape ${code}`,
  tapeType: 'cloth',
  widthMm: 19,
  ...figures,
});

/**
 * A trunk A–M of 1000 mm that divides into a leg M–B of 500 and a spur M–C of 300 mm. Wires of these outside diameters go
 * from A to B, and others from A to C.
 */
export function loomOf(given: {
  toB?: number[];
  toC?: number[];
  parts?: PartInput[];
  coverings?: CoveringInput[];
  loom?: Partial<LoomInput>;
  job?: Partial<JobInput>;
}) {
  const { toB = [], toC = [], parts = [], coverings = [], loom = {}, job = {} } = given;
  const to = (point: string, diameters: number[]) =>
    diameters.map((diameter, index) => {
      const { length: _none, ...routed } = wire(`${point}${index}`, {
        cableType: `type-${diameter}`,
        to: { point, join: 'bare' },
      });
      return routed;
    });
  return jobOf({
    parts: [...[...new Set([...toB, ...toC])].map(wirePart), ...parts],
    loom: {
      points: points('A', 'M', 'B', 'C'),
      branches: [
        { id: 'trunk', from: 'A', to: 'M', lengthMm: 1000 },
        { id: 'leg', from: 'M', to: 'B', lengthMm: 500 },
        { id: 'spur', from: 'M', to: 'C', lengthMm: 300 },
      ],
      wires: [...to('B', toB), ...to('C', toC)],
      coverings,
      ...loom,
    },
    ...job,
  });
}

/** The cut lengths by covering, the findings about coverings and fittings in short, and the branches as they were worked. */
export function worked(job: ReturnType<typeof loomOf>) {
  const { requirements, findings, branches } = rollUp(normaliseJob(job), unhurried);
  const pieces = requirements.flatMap((requirement) =>
    requirement.kind === 'length'
      ? requirement.pieces.map((piece) => ({ ...piece, part: requirement.part }))
      : [],
  );
  return {
    pieces,
    cuts: Object.fromEntries(pieces.map(({ what, cutMm }) => [what.replace('covering ', ''), cutMm])),
    chosen: Object.fromEntries(pieces.map(({ what, part }) => [what.replace('covering ', ''), part])),
    findings: findings.filter(({ subject }) => /^(covering|fitting):/.test(subject ?? '')),
    told: findings
      .filter(({ subject }) => /^(covering|fitting):/.test(subject ?? ''))
      .map(({ code, severity, subject }) => `${severity} ${code} ${subject ?? ''}`),
    branch: (id: string) => branches.of('l').find(({ branch }) => branch.id === id),
  };
}
