import { addTo } from '../../model/group.ts';

/** Something that joins two places, with what it carries and what it costs to pass. */
export interface Link {
  from: number;
  to: number;
  amps: number;
  cost: number;
}

/** What hangs together: the dearest way through it, or, where it has a loop, its links alone. */
export type Stretch<L extends Link> =
  { way: readonly L[]; cost: number; loop: false } | { links: readonly L[]; loop: true };

interface Best<L> {
  cost: number;
  link?: L;
}

/**
 * The dearest way between any two ends of each stretch of links that is a tree. A way passes a place only over one of the
 * links that carry the most there: what is fed at a joint is fed over its heaviest wire, and no current runs from one
 * lamp to the next. Two passes over each tree, so the cost grows with the number of links.
 */
export function worstWays<L extends Link>(
  links: readonly L[],
  placeCost: (place: number) => number,
): Stretch<L>[] {
  const at = new Map<number, L[]>();
  for (const link of links) {
    addTo(at, link.from, link);
    if (link.to !== link.from) addTo(at, link.to, link);
  }
  const seen = new Set<number>();
  return [...at.keys()].flatMap((start) => {
    if (seen.has(start)) return [];
    const { order, upTo, members, loop } = reached(start, at, seen);
    return loop ? [{ links: [...members], loop }] : [dearest(order, upTo, at, placeCost)];
  });
}

/** The places reached from one, nearest first, and over which link each was reached. */
function reached<L extends Link>(start: number, at: ReadonlyMap<number, readonly L[]>, seen: Set<number>) {
  const order = [start];
  const upTo = new Map<number, L>();
  const members = new Set<L>();
  let loop = false;
  seen.add(start);
  for (const place of order)
    for (const link of at.get(place) ?? []) {
      if (members.has(link)) continue;
      members.add(link);
      const next = across(link, place);
      if (seen.has(next)) loop = true;
      else {
        seen.add(next);
        upTo.set(next, link);
        order.push(next);
      }
    }
  return { order, upTo, members, loop };
}

function dearest<L extends Link>(
  order: readonly number[],
  upTo: ReadonlyMap<number, L>,
  at: ReadonlyMap<number, readonly L[]>,
  placeCost: (place: number) => number,
): Stretch<L> {
  /** The dearest way on from a place, away from the start. */
  const onward = new Map<number, Best<L>>();
  let worst = { cost: -Infinity, place: NaN, over: [] as L[] };
  for (const place of [...order].reverse()) {
    const up = upTo.get(place);
    const all = at.get(place) ?? [];
    const most = all.reduce((amps, link) => Math.max(amps, link.amps), 0);
    let heaviest: Best<L> = { cost: 0 };
    let first: Best<L> = { cost: 0 };
    let second: Best<L> = { cost: 0 };
    for (const link of all) {
      if (link === up) continue;
      const cost = link.cost + (onward.get(across(link, place))?.cost ?? 0);
      const next = { cost, link };
      if (link.amps === most && (!heaviest.link || cost > heaviest.cost)) heaviest = next;
      if (!first.link || cost > first.cost) [first, second] = [next, first];
      else if (!second.link || cost > second.cost) second = next;
    }
    const own = placeCost(place);
    const on = up && up.amps < most ? heaviest : first;
    onward.set(place, { ...on, cost: own + on.cost });
    const other = heaviest.link === first.link ? second : first;
    const pair = heaviest.link && other.link ? [heaviest, other] : [first];
    const through = [pair, [first]]
      .map((ways) => ({
        cost: ways.reduce((sum, { cost }) => sum + cost, own),
        place,
        over: ways.flatMap(({ link }) => link ?? []),
      }))
      .reduce((a, b) => (b.cost > a.cost ? b : a));
    if (through.cost > worst.cost && through.over.length > 0) worst = through;
  }
  const [one = [], other = []] = worst.over.map((link) => followed(link, worst.place, onward));
  return { way: [...one.reverse(), ...other], cost: worst.cost, loop: false };
}

function followed<L extends Link>(start: L, place: number, onward: ReadonlyMap<number, Best<L>>): L[] {
  const way: L[] = [];
  let at = place;
  for (let link: L | undefined = start; link; link = onward.get(at)?.link) {
    way.push(link);
    at = across(link, at);
  }
  return way;
}

function across(link: Link, place: number): number {
  return link.from === place ? link.to : link.from;
}
