import { byCode } from '../../model/code.ts';
import { addTo } from '../../model/group.ts';
import type { LeftOut, Requirement } from '../../model/result.ts';
import type { StandIn } from './standIns.ts';

/** One of the families that may serve what is needed of a family: itself, or one that stands in for all of it. */
export interface FamilyOption {
  /** The family that is needed. */
  of: string;
  /** The family that is bought. */
  family: string;
  /** By requirement of the needed family: the parts that serve it. */
  serving: ReadonlyMap<string, readonly { part: string; standIn: StandIn | undefined }[]>;
}

interface Facts {
  familyOf: (part: string) => string | undefined;
  standIns: ReadonlyMap<string, readonly StandIn[]>;
  leftOut: readonly LeftOut[];
  pinned: ReadonlySet<string>;
}

/**
 * The families of which one is chosen: of each family that another may stand in for, all of these, itself first. A family
 * stands in only where each part that is needed has a stand-in in it; never where a part of the needed one is reused, on
 * the shelf for this loom, supplied by the owner or pinned: halves of two families would not go together.
 */
export function familyOptions(
  requirements: readonly Requirement[],
  { familyOf, standIns, leftOut, pinned }: Facts,
): FamilyOption[][] {
  const needed = new Map<string, Requirement[]>();
  for (const requirement of requirements) {
    const family = requirement.kind === 'wire' ? undefined : familyOf(requirement.part);
    if (family !== undefined) addTo(needed, family, requirement);
  }
  const staying = new Set(
    [...leftOut.flatMap(({ part }) => part ?? []), ...pinned].flatMap((part) => familyOf(part) ?? []),
  );
  return [...needed]
    .sort(([a], [b]) => byCode(a, b))
    .flatMap(([of, own]): FamilyOption[][] => {
      if (staying.has(of)) return [];
      const others = new Map<string, Map<string, { part: string; standIn: StandIn }[]>>();
      for (const requirement of own)
        for (const standIn of standIns.get(partOf(requirement)) ?? []) {
          const family = familyOf(standIn.part);
          if (family === undefined || family === of) continue;
          const serving = others.get(family) ?? new Map<string, { part: string; standIn: StandIn }[]>();
          others.set(family, serving);
          addTo(serving, requirement.id, { part: standIn.part, standIn });
        }
      const whole = [...others].filter(([, serving]) => serving.size === own.length);
      if (whole.length === 0) return [];
      const itself = new Map(
        own.map((requirement) => [requirement.id, [{ part: partOf(requirement), standIn: undefined }]]),
      );
      return [
        [
          { of, family: of, serving: itself },
          ...whole.sort(([a], [b]) => byCode(a, b)).map(([family, serving]) => ({ of, family, serving })),
        ],
      ];
    });
}

function partOf(requirement: Requirement): string {
  return requirement.kind === 'wire' ? '' : requirement.part;
}
