import type { Shade } from '../model/colour.ts';
import type { JobLoom } from '../model/job.ts';
import type { Part } from '../model/part.ts';

/** What a covering asks of a part that is chosen for it. */
export type CoveringSort = Pick<JobLoom['coverings'][number], 'kind' | 'shade'>;
export type Sleeve = Extract<Part, { kind: 'sleeve' }>;

/** Whether a part may be chosen for a covering that names none: of its kind, and of its shade where one is stated. */
export function isCandidate(part: Part, { kind, shade }: CoveringSort): boolean {
  const ofKind = part.kind === 'sleeve' ? part.sleeveType === kind && kind !== 'other' : part.kind === kind;
  return ofKind && (shade === undefined || ('shade' in part && part.shade === shade));
}

/** Whether a part may mark a plain wire with a tracer's colour. */
export function isTracerSleeve(part: Part, shade: Shade): part is Sleeve {
  return (
    part.kind === 'sleeve' &&
    (part.sleeveType === 'pvc' || part.sleeveType === 'heatShrink') &&
    part.shade === shade
  );
}
