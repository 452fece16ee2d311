import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';
import { isWirePart, nearestWires, specLabel } from '../loom/wireSpec.ts';

/** Why a requirement is not bought, and what would mend it. */
export function unsourcedLine(requirement: Requirement, job: Job, refused: readonly string[]): Unsourced {
  const line = { requirement: requirement.id, label: requirement.label };
  if (requirement.servedBy.length === 0 && requirement.kind === 'wire') {
    const nearest = nearestWires(requirement, job.parts.filter(isWirePart));
    const near = nearest.map((part) => `${specLabel(part)} (${part.code})`).join(', ');
    return {
      ...line,
      why: `No wire in the catalogue is ${requirement.label}.${near ? ` Nearest: ${near}.` : ''}`,
      todo: near
        ? 'Add the wire with an offer; or, where one of the nearest will do, ask for it in the loom.'
        : 'Add the wire to the catalogue with an offer.',
    };
  }
  const parts = requirement.servedBy.join(', ');
  if (refused.length === 0)
    return { ...line, why: `No offer sells ${parts}.`, todo: `Enter an offer for ${parts}.` };
  return {
    ...line,
    why: `No offer of ${parts} can be used: ${refused.join('; ')}.`,
    todo: `Enter an offer for ${parts} ${requirement.kind === 'wire' ? 'by the metre' : 'in packs'}, priced in ${job.club.currency}.`,
  };
}
