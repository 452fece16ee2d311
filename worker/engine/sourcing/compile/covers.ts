import { addTo } from '../../model/group.ts';
import type { Cover, Pool } from '../problem/problem.ts';

/** A requirement for a sum: what it needs by each order, in all at the last, and the parts that may serve it. */
export interface SumRequirement {
  requirement: number;
  amounts: readonly number[];
  parts: readonly string[];
  when: readonly number[] | undefined;
  /** Of tools: one piece serves every such requirement at once. */
  apart: boolean;
}

/** A choice with what a unit gives of each part to which requirements, and the order that it comes with (from 1). */
export interface Giving {
  choice: number;
  wave: number;
  parts: readonly { each: number; requirements: ReadonlySet<number> }[];
}

/** Rows grow as a power of the requirements that share parts: beyond so many, sharing is given up. */
const MOST_SHARING = 7;
const MOST_ROWS = 600;

/**
 * What must be bought so that every requirement is met and nothing counts twice. A requirement that shares no part with another has
 * one cover an order. Of those that share, each choice of requirements and orders has one: what may serve any of these must
 * come to what they need together. That is all that it takes (Gale's condition for flows in a bipartite network).
 * Throws where more requirements share parts than can be written out: `sharingTooMany` says so beforehand.
 */
export function coversOf(
  requirements: readonly SumRequirement[],
  giving: readonly Giving[],
): { covers: Cover[]; pools: Pool[] } {
  const serving = new Map<number, Giving[]>();
  for (const give of giving)
    for (const requirement of new Set(give.parts.flatMap(({ requirements }) => [...requirements])))
      addTo(serving, requirement, give);
  const covers: Cover[] = [];
  const pools: Pool[] = [];
  for (const group of groupsOf(requirements)) {
    const own = [...new Set(group.flatMap(({ requirement }) => serving.get(requirement) ?? []))].sort(
      (a, b) => a.choice - b.choice,
    );
    for (const chosen of choicesOf(group)) covers.push(...coverOf(chosen, own));
    pools.push({
      requirements: group.map(({ requirement }) => requirement),
      need: group.reduce((sum, { amounts }) => sum + (amounts.at(-1) ?? 0), 0),
      gives: givesOf(
        group.map((requirement) => ({ requirement, wave: requirement.amounts.length })),
        own,
      ),
    });
  }
  return { covers, pools };
}

/** Groups in which so many requirements share parts that their covers cannot be written out. */
export function sharingTooMany(requirements: readonly SumRequirement[]): SumRequirement[][] {
  return groupsOf(requirements).filter((group) => {
    const waves = group[0]?.amounts.length ?? 1;
    return group.length > 1 && (group.length > MOST_SHARING || (waves + 1) ** group.length > MOST_ROWS);
  });
}

/** Requirements that share parts, directly or through others, in the order of the requirements. */
function groupsOf(requirements: readonly SumRequirement[]): SumRequirement[][] {
  const groups: { requirements: SumRequirement[]; parts: Set<string> }[] = [];
  for (const requirement of requirements) {
    const touching = requirement.apart
      ? []
      : groups.filter(({ parts }) => requirement.parts.some((part) => parts.has(part)));
    const [first, ...others] = touching;
    const into: (typeof groups)[number] = first ?? { requirements: [], parts: new Set<string>() };
    if (!first) groups.push(into);
    for (const other of others) {
      into.requirements.push(...other.requirements);
      for (const part of other.parts) into.parts.add(part);
      groups.splice(groups.indexOf(other), 1);
    }
    into.requirements.push(requirement);
    if (!requirement.apart) for (const part of requirement.parts) into.parts.add(part);
  }
  return groups.map((group) => group.requirements.sort((a, b) => a.requirement - b.requirement));
}

interface Asked {
  requirement: SumRequirement;
  /** By this order. */
  wave: number;
}

/** Each way to take some of the requirements, each by some order. One that needs no more than by the order before is left out. */
function choicesOf(group: readonly SumRequirement[]): Asked[][] {
  return group
    .reduce<Asked[][]>(
      (lists, requirement) => [
        ...lists,
        ...requirement.amounts.flatMap((amount, index) =>
          amount > (requirement.amounts[index - 1] ?? 0)
            ? lists.map((list) => [...list, { requirement, wave: index + 1 }])
            : [],
        ),
      ],
      [[]],
    )
    .filter((list) => list.length > 0);
}

/** The rows of one choice of requirements: a tool that several options ask for has one for each of these. */
function coverOf(asked: readonly Asked[], giving: readonly Giving[]): Cover[] {
  const gives = givesOf(asked, giving);
  return asked
    .reduce<Cover['members'][]>(
      (lists, { requirement, wave }) =>
        (requirement.when ?? [undefined]).flatMap((when) =>
          lists.map((members) => [
            ...members,
            { requirement: requirement.requirement, need: requirement.amounts[wave - 1] ?? 0, when },
          ]),
        ),
      [[]],
    )
    .map((members) => ({ members, gives }));
}

/** What each choice gives to any of these: of every part with which it serves one of them by its order. */
function givesOf(asked: readonly Asked[], giving: readonly Giving[]): Cover['gives'] {
  const until = new Map(asked.map(({ requirement, wave }) => [requirement.requirement, wave]));
  return giving.flatMap(({ choice, wave, parts }) => {
    const serves = (requirement: number) => (until.get(requirement) ?? -1) >= wave;
    const each = parts.reduce((sum, part) => sum + ([...part.requirements].some(serves) ? part.each : 0), 0);
    return each > 0 ? [{ choice, each }] : [];
  });
}
