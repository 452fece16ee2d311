import { addTo } from '../../model/group.ts';
import type { Cover } from '../problem/problem.ts';
import type { Given } from './pools.ts';

/** A demand for a sum: what it needs by each order, in all at the last, and the parts that may serve it. */
export interface SumNeed {
  demand: number;
  amounts: readonly number[];
  parts: readonly string[];
  when: readonly number[] | undefined;
  /** Of tools: one piece serves every such demand at once. */
  apart: boolean;
}

/** A choice with what a unit gives of each part to which demands, and the order that it comes with (from 1). */
export interface Giving {
  choice: number;
  wave: number;
  parts: readonly { each: number; demands: ReadonlySet<number> }[];
}

/** Rows grow as a power of the demands that share parts: beyond so many, sharing is given up. */
const MOST_SHARING = 7;
const MOST_ROWS = 600;

/**
 * What must be bought so that every demand is met and nothing counts twice. A demand that shares no part with another has
 * one cover an order. Of those that share, each choice of demands and orders has one: what may serve any of these must
 * come to what they need together. That is all that it takes (Gale's condition for flows in a bipartite network).
 * Throws where more demands share parts than can be written out: `sharingTooMany` says so beforehand.
 */
export function coversOf(
  needs: readonly SumNeed[],
  giving: readonly Giving[],
): { covers: Cover[]; pools: Given[] } {
  const serving = new Map<number, Giving[]>();
  for (const give of giving)
    for (const demand of new Set(give.parts.flatMap(({ demands }) => [...demands])))
      addTo(serving, demand, give);
  const covers: Cover[] = [];
  const pools: Given[] = [];
  for (const group of groupsOf(needs)) {
    const own = [...new Set(group.flatMap(({ demand }) => serving.get(demand) ?? []))].sort(
      (a, b) => a.choice - b.choice,
    );
    for (const chosen of choicesOf(group)) covers.push(...coverOf(chosen, own));
    pools.push({
      demands: group.map(({ demand }) => demand),
      need: group.reduce((sum, { amounts }) => sum + (amounts.at(-1) ?? 0), 0),
      gives: givesOf(
        group.map((need) => ({ need, wave: need.amounts.length })),
        own,
      ),
    });
  }
  return { covers, pools };
}

/** Groups in which so many demands share parts that their covers cannot be written out. */
export function sharingTooMany(needs: readonly SumNeed[]): SumNeed[][] {
  return groupsOf(needs).filter((group) => {
    const waves = group[0]?.amounts.length ?? 1;
    return group.length > 1 && (group.length > MOST_SHARING || (waves + 1) ** group.length > MOST_ROWS);
  });
}

/** Demands that share parts, directly or through others, in the order of the demands. */
function groupsOf(needs: readonly SumNeed[]): SumNeed[][] {
  const groups: { needs: SumNeed[]; parts: Set<string> }[] = [];
  for (const need of needs) {
    const touching = need.apart
      ? []
      : groups.filter(({ parts }) => need.parts.some((part) => parts.has(part)));
    const [first, ...others] = touching;
    const into: (typeof groups)[number] = first ?? { needs: [], parts: new Set<string>() };
    if (!first) groups.push(into);
    for (const other of others) {
      into.needs.push(...other.needs);
      for (const part of other.parts) into.parts.add(part);
      groups.splice(groups.indexOf(other), 1);
    }
    into.needs.push(need);
    if (!need.apart) for (const part of need.parts) into.parts.add(part);
  }
  return groups.map((group) => group.needs.sort((a, b) => a.demand - b.demand));
}

interface Asked {
  need: SumNeed;
  /** By this order. */
  wave: number;
}

/** Each way to take some of the demands, each by some order. One that needs no more than by the order before is left out. */
function choicesOf(group: readonly SumNeed[]): Asked[][] {
  return group
    .reduce<Asked[][]>(
      (lists, need) => [
        ...lists,
        ...need.amounts.flatMap((amount, index) =>
          amount > (need.amounts[index - 1] ?? 0)
            ? lists.map((list) => [...list, { need, wave: index + 1 }])
            : [],
        ),
      ],
      [[]],
    )
    .filter((list) => list.length > 0);
}

/** The rows of one choice of demands: a tool that several options ask for has one for each of these. */
function coverOf(asked: readonly Asked[], giving: readonly Giving[]): Cover[] {
  const gives = givesOf(asked, giving);
  return asked
    .reduce<Cover['members'][]>(
      (lists, { need, wave }) =>
        (need.when ?? [undefined]).flatMap((when) =>
          lists.map((members) => [
            ...members,
            { demand: need.demand, need: need.amounts[wave - 1] ?? 0, when },
          ]),
        ),
      [[]],
    )
    .map((members) => ({ members, gives }));
}

/** What each choice gives to any of these: of every part with which it serves one of them by its order. */
function givesOf(asked: readonly Asked[], giving: readonly Giving[]): Cover['gives'] {
  const until = new Map(asked.map(({ need, wave }) => [need.demand, wave]));
  return giving.flatMap(({ choice, wave, parts }) => {
    const serves = (demand: number) => (until.get(demand) ?? -1) >= wave;
    const each = parts.reduce((sum, part) => sum + ([...part.demands].some(serves) ? part.each : 0), 0);
    return each > 0 ? [{ choice, each }] : [];
  });
}
