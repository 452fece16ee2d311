import { standInsOf } from '../job/relatedParts.ts';
import { isWirePart, nearMisses, specLabel } from '../job/wireSpec.ts';
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
    if (requirement.servedBy.length === 0 && requirement.kind === 'wire') {
      const near = nearest(requirement)
        .map((part) => `${specLabel(part)} (${part.code})`)
        .join(', ');
      return {
        ...line,
        why: `No wire in the catalogue is ${requirement.label}.${near ? ` Nearest: ${near}.` : ''}`,
        todo: near
          ? 'Add the wire with an offer; or, where one of the nearest will do, ask for it in the loom.'
          : 'Add the wire to the catalogue with an offer.',
      };
    }
    const parts = requirement.servedBy.join(', ');
    const others = [...new Set(requirement.servedBy.flatMap(standIns))].join(', ');
    const hint =
      others === ''
        ? ''
        : ` Stated to stand in for it: ${others}; what is confirmed is bought in its place where it is on sale.`;
    const why = refused.get(requirement.id) ?? [];
    if (why.length === 0)
      return { ...line, why: `No offer sells ${parts}.`, todo: `Enter an offer for ${parts}.${hint}` };
    return {
      ...line,
      why: `No offer of ${parts} can be used: ${why.join('; ')}.`,
      todo: `Mend what is said of these offers, or enter another of ${parts} ${requirement.kind === 'count' ? 'in packs' : 'by the metre or in fixed lengths'}.${hint}`,
    };
  });
}
