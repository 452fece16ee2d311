import type { Vetting } from '../../loom/checks/inPlace.ts';
import type { Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Job } from '../../model/job.ts';
import type { LeftOut, Requirement } from '../../model/result.ts';
import type { SettingValues } from '../../model/settings.ts';
import { standInsFor, type StandIn } from './standIns.ts';
import { sharingTooMany } from '../compile/covers.ts';
import { toolFor } from './tools.ts';
import { vetted } from './vetted.ts';
import { wavesOf } from '../../job/orders.ts';

/** A requirement, or what serves it under one choice of family, with the parts that may serve it. */
export interface AskedRequirement {
  /** As the looms roll up to it. */
  rolledUp: Requirement;
  /** Counts only while one of these options is chosen; undefined: always. */
  when: readonly number[] | undefined;
  /** By part: as what it stands in, or undefined for the part itself. */
  parts: ReadonlyMap<string, StandIn | undefined>;
  /** Of a tool: the requirements whose first order it comes with. */
  follows?: ReadonlySet<string>;
}

/** One of the families that may be chosen. */
export interface Option {
  of: string;
  family: string;
}

export interface AskedRequirements {
  requirements: AskedRequirement[];
  /** Of each group one option is chosen; numbers into `options`. */
  groups: number[][];
  options: Option[];
  /** By part that stands in for another by length, though it is needed itself and so does not. */
  alsoNeeded: { part: string; requirement: Requirement }[];
  /** What speaks against stand-ins that are not let in. */
  unfit: Finding[];
}

/** What is to be bought, and what may serve it: the parts themselves, what stands in for them, families as wholes, tools. */
export function requirementsOf(
  job: Job,
  requirements: readonly Requirement[],
  leftOut: readonly LeftOut[],
  { standInsAccepted, vetting }: Pick<SettingValues, 'standInsAccepted'> & { vetting: Vetting },
): AskedRequirements {
  const families = new Map(job.parts.map(({ code, family }) => [code, family]));
  const familyOf = (part: string) => families.get(part);
  const pinned = new Set((job.request.pinned ?? []).map(({ part }) => part));
  const needed = new Set(requirements.flatMap(({ servedBy }) => servedBy));
  const accepted = standInsAccepted.filter(
    (status) => status === 'confirmed' || job.request.confirmedOnly !== true,
  );
  const { standIns, groups, findings } = vetted(job, requirements, standInsFor(job, accepted), {
    vetting,
    familyOf,
    leftOut,
    pinned,
  });
  const options = groups.flat();
  const result: AskedRequirements = {
    requirements: [],
    options: options.map(({ of, family }) => ({ of, family })),
    groups: [],
    alsoNeeded: [],
    unfit: findings,
  };
  for (const group of groups) result.groups.push(group.map((option) => options.indexOf(option)));
  for (const requirement of requirements) {
    const plain = plainParts(requirement, { familyOf, standIns, pinned, needed }, result.alsoNeeded);
    const own = options.filter(({ serving }) => serving.has(requirement.id));
    if (own.length === 0) result.requirements.push({ rolledUp: requirement, when: undefined, parts: plain });
    for (const option of own)
      result.requirements.push({
        rolledUp: requirement,
        when: [options.indexOf(option)],
        parts:
          option.family === option.of
            ? plain
            : new Map((option.serving.get(requirement.id) ?? []).map(({ part, standIn }) => [part, standIn])),
      });
  }
  result.requirements.push(...toolRequirements(job, requirements, result, familyOf));
  return { ...result, requirements: withoutTooMuchSharing(result.requirements, wavesOf(job)) };
}

/** Where too many requirements share stand-ins, those that serve several of them stand in for none. */
function withoutTooMuchSharing(requirements: readonly AskedRequirement[], waves: number): AskedRequirement[] {
  const sums = requirements.flatMap(({ rolledUp, parts, when, follows }, requirement) =>
    isSum(rolledUp)
      ? [
          {
            requirement,
            amounts: Array<number>(waves).fill(1),
            parts: [...parts.keys()],
            when,
            apart: follows !== undefined,
          },
        ]
      : [],
  );
  const tangled = new Set(
    sharingTooMany(sums).flatMap((group) => group.map(({ requirement }) => requirement)),
  );
  if (tangled.size === 0) return [...requirements];
  const times = new Map<string, number>();
  for (const at of tangled)
    for (const part of requirements[at]?.parts.keys() ?? []) times.set(part, (times.get(part) ?? 0) + 1);
  return requirements.map((requirement, at) =>
    tangled.has(at)
      ? {
          ...requirement,
          parts: new Map(
            [...requirement.parts].filter(
              ([part, standIn]) => standIn === undefined || times.get(part) === 1,
            ),
          ),
        }
      : requirement,
  );
}

/** Whether any mix of packs or lengths will do: what is counted, and what may be joined. */
export function isSum(requirement: Requirement): boolean {
  return requirement.kind === 'count' || (requirement.kind === 'length' && requirement.joinable);
}

interface Facts {
  familyOf: (part: string) => string | undefined;
  standIns: ReadonlyMap<string, readonly StandIn[]>;
  pinned: ReadonlySet<string>;
  needed: ReadonlySet<string>;
}

/** The parts themselves, and what stands in for them without another family coming in. */
function plainParts(
  requirement: Requirement,
  { familyOf, standIns, pinned, needed }: Facts,
  alsoNeeded: AskedRequirements['alsoNeeded'],
): Map<string, StandIn | undefined> {
  const parts = new Map<string, StandIn | undefined>(requirement.servedBy.map((part) => [part, undefined]));
  if (requirement.servedBy.some((part) => pinned.has(part))) return parts;
  for (const part of requirement.servedBy)
    for (const standIn of standIns.get(part) ?? []) {
      const [ours, theirs] = [familyOf(part), familyOf(standIn.part)];
      if (parts.has(standIn.part) || (ours !== undefined && theirs !== undefined && ours !== theirs))
        continue;
      // Lengths are cut for one requirement each: what is needed itself does not stand in beside that.
      if (!isSum(requirement) && needed.has(standIn.part))
        alsoNeeded.push({ part: standIn.part, requirement });
      else parts.set(standIn.part, standIn);
    }
  return parts;
}

/** A tool of each family that may come to be bought. */
function toolRequirements(
  job: Job,
  requirements: readonly Requirement[],
  { options, groups }: AskedRequirements,
  familyOf: (part: string) => string | undefined,
): AskedRequirement[] {
  const owned = new Set(job.stock.map(({ part }) => part));
  const grouped = new Set(groups.flat().flatMap((at) => options[at]?.of ?? []));
  const members = new Map<string, string[]>();
  for (const requirement of requirements) {
    const family = requirement.kind === 'wire' ? undefined : familyOf(requirement.part);
    if (family !== undefined) addTo(members, family, requirement.id);
  }
  const whens = new Map<string, number[] | undefined>();
  for (const family of members.keys()) if (!grouped.has(family)) whens.set(family, undefined);
  const chosen = new Map<string, number[]>();
  options.forEach(({ family }, at) => addTo(chosen, family, at));
  for (const [family, when] of chosen) if (!whens.has(family)) whens.set(family, when);
  return [...whens].flatMap(([family, when]): AskedRequirement[] => {
    const requirement = toolFor(family, job.parts, owned);
    if (!requirement) return [];
    const served = [family, ...(when ?? []).flatMap((at) => options[at]?.of ?? [])];
    return [
      {
        rolledUp: requirement,
        when,
        parts: new Map(requirement.servedBy.map((part) => [part, undefined])),
        follows: new Set(served.flatMap((of) => members.get(of) ?? [])),
      },
    ];
  });
}
