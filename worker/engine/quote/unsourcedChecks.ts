import type { AskedLoom } from '../loom/asked.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';

/** What is not bought, a finding each, at the part or the wire that is needed. */
export function unsourcedChecks(
  job: Job,
  looms: readonly AskedLoom[],
  requirements: readonly Requirement[],
  unsourced: readonly Unsourced[],
): Finding[] {
  const byId = new Map(requirements.map((requirement) => [requirement.id, requirement]));
  return unsourced.map(({ requirement: id, label, why, todo }) => {
    const requirement = byId.get(id);
    return {
      code: 'unsourced',
      severity: 'warning',
      at: requirement ? placeOf(job, looms, requirement) : '',
      where: label,
      subject: id,
      found: why.replace(/\.$/, ''),
      todo,
    };
  });
}

function placeOf(job: Job, looms: readonly AskedLoom[], requirement: Requirement): string {
  if (requirement.kind !== 'wire')
    return pointer(['parts', job.parts.findIndex(({ code }) => code === requirement.part)]);
  const [piece] = requirement.pieces;
  const loom = looms.find((asked) => asked.loom.code === piece?.loom)?.place ?? -1;
  const wire = job.looms[loom]?.wires.findIndex(({ id }) => id === piece?.wire);
  return pointer(['looms', loom, 'wires', wire ?? 0]);
}
