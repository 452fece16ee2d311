import type { Placement, Vetting } from '../../loom/checks/inPlace.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Job } from '../../model/job.ts';
import { offerParts } from '../../model/offer.ts';
import type { Part } from '../../model/part.ts';
import type { Requirement } from '../../model/result.ts';
import { familyOptions, type FamilyOption } from './families.ts';
import type { StandIn } from './standIns.ts';

type StandIns = ReadonlyMap<string, readonly StandIn[]>;

/** What may be bought in place of what is needed: a part for a part, or a family for a family. */
interface Alternative {
  placements: readonly Placement[];
  /** "new in place of old" */
  words: string;
  part: Part;
}

/** What would do in the places of what is needed. */
export interface Vetted {
  standIns: StandIns;
  groups: FamilyOption[][];
  /** What speaks against those that would not. */
  findings: Finding[];
}

type Facts = Omit<Parameters<typeof familyOptions>[1], 'standIns'>;

/**
 * Lets in what passes the checks in every place of what it would be bought for: each part and family by itself, then each
 * two that meet somewhere. Of two that do not go together the later one is left out, so that whatever is bought of the rest
 * goes together. What nobody sells is not looked at.
 */
export function vetted(
  job: Job,
  requirements: readonly Requirement[],
  standIns: StandIns,
  { vetting, ...facts }: Facts & { vetting: Vetting },
): Vetted {
  const parts = new Map(job.parts.map((part) => [part.code, part]));
  const sold = new Set([...job.offers.flatMap(offerParts), ...job.stock].map(({ part }) => part));
  const findings: Finding[] = [];
  const letIn: Alternative[] = [];
  const passes = (alternative: Alternative): boolean => {
    const { placements, words, part } = alternative;
    if (placements.every((each) => !sold.has(each.part.code))) return true;
    const tell = (against: readonly Finding[], beside: string) => {
      findings.push(unfit(job, part, words + beside, against));
      return false;
    };
    const alone = vetting.against(placements);
    if (alone.length > 0) return tell(alone, '');
    for (const other of letIn) {
      if (!together(placements, other.placements, vetting)) continue;
      const both = vetting.against([...placements, ...other.placements]);
      if (both.length > 0) return tell(both, `, together with ${other.words}`);
    }
    letIn.push(alternative);
    return true;
  };

  const placed = (requirement: Requirement, code: string): Placement | undefined => {
    const part = parts.get(code);
    return part && { requirement, part };
  };
  const fitting = new Map(standIns);
  for (const requirement of requirements)
    for (const needed of requirement.servedBy) {
      const ours = facts.familyOf(needed);
      const own = (standIns.get(needed) ?? []).filter((standIn) => {
        const theirs = facts.familyOf(standIn.part);
        // What comes from another family comes with all of it.
        if (ours !== undefined && theirs !== undefined && ours !== theirs) return true;
        const placement = placed(requirement, standIn.part);
        const words = inPlaceOf(standIn.part, needed);
        return placement === undefined || passes({ placements: [placement], words, part: placement.part });
      });
      if (own.length > 0) fitting.set(needed, own);
      else fitting.delete(needed);
    }

  const byId = new Map(requirements.map((requirement) => [requirement.id, requirement]));
  const options = familyOptions(requirements, { ...facts, standIns: fitting });
  const groups = options.flatMap((group): FamilyOption[][] => {
    const whole = group.filter((option) => {
      if (option.family === option.of) return true;
      const words = familyInPlaceOf(option.family, option.of);
      const before = letIn.length;
      // Where several parts of the family may stand for one, each is looked at beside the first ones of the others.
      const fits = assortments(membersOf(option, byId, placed)).every((placements) => {
        const [first] = placements;
        return first === undefined || passes({ placements, words, part: first.part });
      });
      if (!fits) letIn.length = before;
      return fits;
    });
    return whole.length > 1 ? [whole] : [];
  });
  return { standIns: fitting, groups, findings };
}

function inPlaceOf(part: string, needed: string): string {
  return `${part} in place of ${needed}`;
}

function familyInPlaceOf(family: string, of: string): string {
  return `family ${family} in place of ${of}`;
}

/** Tells whether the checks forbade a part in place of another, by itself, beside others or with its family. */
export function refusedBy(
  findings: readonly Finding[],
  parts: readonly Part[],
): (part: string, needed: string) => boolean {
  const families = new Map(parts.map(({ code, family }) => [code, family]));
  // What it was looked at beside is said after a comma, which no code holds.
  const places = new Set(findings.map(({ where }) => where.split(',')[0]));
  return (part, needed) =>
    places.has(inPlaceOf(part, needed)) ||
    places.has(familyInPlaceOf(families.get(part) ?? '', families.get(needed) ?? ''));
}

/** By requirement of the needed family: the parts that may stand for it. */
function membersOf(
  { serving }: FamilyOption,
  byId: ReadonlyMap<string, Requirement>,
  placed: (requirement: Requirement, code: string) => Placement | undefined,
): Placement[][] {
  return [...serving].map(([id, standIns]) => {
    const requirement = byId.get(id);
    return requirement ? standIns.flatMap(({ part }) => placed(requirement, part) ?? []) : [];
  });
}

/** The first ones of all; and each other one beside the first ones of the others. */
function assortments(members: readonly (readonly Placement[])[]): Placement[][] {
  const firsts = members.flatMap(([first]) => first ?? []);
  return [
    firsts,
    ...members.flatMap((own, at) =>
      own.slice(1).map((other) => firsts.map((first, index) => (index === at ? other : first))),
    ),
  ];
}

/** Whether two alternatives can be bought at once, and come together somewhere. */
function together(a: readonly Placement[], b: readonly Placement[], vetting: Vetting): boolean {
  if (a.some((one) => b.some((other) => one.requirement === other.requirement))) return false;
  return a.some((one) => b.some((other) => vetting.meet(one.requirement, other.requirement)));
}

function unfit(job: Job, part: Part, words: string, against: readonly Finding[]): Finding {
  const gravest = against.find(({ severity }) => severity === 'stop') ?? against[0];
  const others = new Set(against.map(({ at }) => at)).size - 1;
  return {
    code: 'stand-in-does-not-fit',
    severity: 'note',
    at: pointer(['parts', job.parts.findIndex(({ code }) => code === part.code)]),
    where: words,
    subject: `part:${part.code}`,
    found: `${gravest?.where ?? ''}: ${gravest?.found ?? ''}${others > 0 ? `; and at ${others} more place${others === 1 ? '' : 's'}` : ''}`,
    ...(gravest?.limit === undefined ? {} : { limit: gravest.limit }),
    ...(gravest?.source === undefined ? {} : { source: gravest.source }),
    todo: 'It is not bought instead. A stand-in must fit at every place. Correct its figures, name it in the loom at the places where it fits, or do not state it as a stand-in.',
  };
}
