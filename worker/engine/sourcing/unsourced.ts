import { standInsOf } from '../job/relatedParts.ts';
import { nearMisses } from '../job/nearMisses.ts';
import { isWirePart, specLabel } from '../job/wireSpec.ts';
import type { Job } from '../model/job.ts';
import type { Requirement, Unsourced } from '../model/result.ts';

/** Why each of these requirements is not bought, and what would mend it. `refused`: sentences by requirement. */
export function unsourcedLines(
  requirements: readonly Requirement[],
  job: Job,
  refused: ReadonlyMap<string, readonly string[]>,
): Unsourced[] {
  if (requirements.length === 0) return [];
  const nearest = nearMisses(job.parts.filter(isWirePart));
  const standIns = standInsOf(job.parts);
  return requirements.map((requirement) => {
    const line = { requirement: requirement.id, label: requirement.label };
    const near =
      requirement.kind === 'wire'
        ? nearest(requirement).map((part) => `${specLabel(part)} (${part.code})`)
        : [];
    const words = near.length === 0 ? '' : ` Nearest: ${near.join(', ')}.`;
    const orNear = near.length === 0 ? '' : ' Or, where one of the nearest will do, ask for it in the loom.';
    if (requirement.servedBy.length === 0 && requirement.kind === 'wire')
      return {
        ...line,
        why: `No wire in the catalogue is ${requirement.label}.${words}`,
        todo: `Add the wire ${near.length === 0 ? 'to the catalogue ' : ''}with an offer.${orNear}`,
      };
    const parts = requirement.servedBy.join(', ');
    const others = [...new Set(requirement.servedBy.flatMap(standIns))].join(', ');
    const hint =
      others === ''
        ? ''
        : ` Stated to stand in for it: ${others}; what is confirmed is bought in its place where it is on sale.`;
    const why = refused.get(requirement.id) ?? [];
    if (why.length === 0)
      return {
        ...line,
        why: `No offer sells ${parts}.${words}`,
        todo: `Enter an offer for ${parts}.${hint}${orNear}`,
      };
    return {
      ...line,
      why: `No offer of ${parts} can be used: ${why.join('; ')}.${words}`,
      todo: `Mend what is said of these offers, or enter another of ${parts} ${requirement.kind === 'count' ? 'in packs' : 'by the metre or in fixed lengths'}.${hint}${orNear}`,
    };
  });
}
