import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';

/** What is not bought, a finding each, at the part or the wire that is needed. */
export function unsourcedChecks(
  job: Job,
  requirements: readonly Requirement[],
  unsourced: readonly Unsourced[],
): Finding[] {
  const byId = new Map(requirements.map((requirement) => [requirement.id, requirement]));
  return unsourced.map(({ requirement: id, label, why, todo }) => {
    const requirement = byId.get(id);
    return {
      code: 'unsourced',
      severity: 'warning',
      at: requirement ? placeOf(job, requirement) : '',
      where: label,
      subject: id,
      found: why.replace(/\.$/, ''),
      todo,
    };
  });
}

function placeOf(job: Job, requirement: Requirement): string {
  if (requirement.kind !== 'wire')
    return pointer(['parts', job.parts.findIndex(({ code }) => code === requirement.part)]);
  const [piece] = requirement.pieces;
  const loom = job.looms.findIndex(({ code }) => code === piece?.loom);
  const wire = job.looms[loom]?.wires.findIndex(({ id }) => id === piece?.wire);
  return pointer(['looms', loom, 'wires', wire ?? 0]);
}
