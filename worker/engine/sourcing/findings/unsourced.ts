import { standInsOf } from '../../job/relatedParts.ts';
import { nearMisses } from '../../job/nearMisses.ts';
import { isWirePart, specLabel } from '../../job/wireSpec.ts';
import type { Finding } from '../../model/finding.ts';
import type { Job } from '../../model/job.ts';
import type { Requirement, Unsourced, WireRequirement } from '../../model/result.ts';
import { standInsFor } from '../asked/standIns.ts';
import { refusedBy } from '../asked/vetted.ts';

/** What was not let in. */
interface Refused {
  /** Offers that cannot be used: sentences by requirement. */
  offers: ReadonlyMap<string, readonly string[]>;
  /** What the checks say against stand-ins. */
  standIns: readonly Finding[];
}

/** Why each of these requirements is not bought, and what would mend it. */
export function unsourcedLines(
  requirements: readonly Requirement[],
  job: Job,
  refused: Refused,
): Unsourced[] {
  if (requirements.length === 0) return [];
  const nearest = nearMisses(job.parts.filter(isWirePart));
  const standIns = standInsOf(job.parts);
  const isRefused = refusedBy(refused.standIns, job.parts);
  const unconfirmed = standInsLeftOut(job);
  const carries = carrying(job);
  return requirements.map((requirement) => {
    const line = { requirement: requirement.id, label: requirement.label };
    const near =
      requirement.kind === 'wire'
        ? nearest(requirement, { thinner: !carries(requirement) }).map(
            (part) => `${specLabel(part)} (${part.code})`,
          )
        : [];
    const words = near.length === 0 ? '' : ` Nearest: ${near.join(', ')}.`;
    const orNear = near.length === 0 ? '' : ' Or, if one of the nearest is good enough, name it in the loom.';
    if (requirement.servedBy.length === 0 && requirement.kind === 'wire')
      return {
        ...line,
        why: `No wire in the catalogue is ${requirement.label}.${words}`,
        todo: `Add the wire ${near.length === 0 ? 'to the catalogue ' : ''}and an offer for it.${orNear}`,
      };
    const parts = requirement.servedBy.join(', ');
    const hint = standInWords(requirement.servedBy, standIns, isRefused) + unconfirmed(requirement.servedBy);
    const why = refused.offers.get(requirement.id) ?? [];
    if (why.length === 0)
      return {
        ...line,
        why: `No offer sells ${parts}.${words}`,
        todo: `Enter an offer for ${parts}.${hint}${orNear}`,
      };
    return {
      ...line,
      why: `No offer of ${parts} can be used: ${why.join('; ')}.${words}`,
      todo: `Fix the faults of these offers, or enter another offer of ${parts} ${requirement.kind === 'count' ? 'in packs' : 'by the metre or in fixed lengths'}.${hint}${orNear}`,
    };
  });
}

/** What is stated to stand in for these parts: what would be bought, and what the checks forbade. */
function standInWords(
  servedBy: readonly string[],
  standIns: (part: string) => string[],
  isRefused: (part: string, needed: string) => boolean,
): string {
  const stated = [...new Set(servedBy.flatMap(standIns))];
  const isForbidden = (part: string) =>
    servedBy.filter((needed) => standIns(needed).includes(part)).every((needed) => isRefused(part, needed));
  const others = stated.filter((part) => !isForbidden(part)).join(', ');
  const forbidden = stated.filter(isForbidden).join(', ');
  return [
    others === ''
      ? ''
      : ` Stated to stand in for it: ${others}. A confirmed stand-in is bought instead if an offer sells it and it passes the checks.`,
    forbidden === ''
      ? ''
      : ` Stated to stand in for it, but refused by the checks: ${forbidden}. See the notes stand-in-does-not-fit.`,
  ].join('');
}

/** Tells which stand-ins for parts the request leaves out since nobody has confirmed them; empty where it leaves out none. */
function standInsLeftOut(job: Job): (servedBy: readonly string[]) => string {
  if (job.request.confirmedOnly !== true) return () => '';
  const proposed = standInsFor(job, ['proposed']);
  return (servedBy) => {
    const parts = [...new Set(servedBy.flatMap((part) => proposed.get(part) ?? []).map(({ part }) => part))];
    return parts.length === 0
      ? ''
      : ` Left out, as nobody has confirmed that it stands in (confirmedOnly): ${parts.join(', ')}.`;
  };
}

/** Tells of a wire to buy whether any wire that asks for it states amps or a fuse. */
function carrying({ looms }: Job): (requirement: WireRequirement) => boolean {
  const loaded = new Set(
    looms.flatMap(({ code, wires }) =>
      wires.flatMap(({ id, amps, fuse }) =>
        amps === undefined && fuse === undefined ? [] : [`${code} ${id}`],
      ),
    ),
  );
  // A loom that is made with several sets of options has them behind its code, which holds no space.
  return ({ pieces }) => pieces.some(({ loom, wire }) => loaded.has(`${loom.split(' ')[0] ?? ''} ${wire}`));
}
