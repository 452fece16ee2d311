import type { BenchBranch, BenchEnd, BenchLoom, BenchPoint, BenchWire } from '../../engine/model/bench.ts';
import { addTo } from '../../engine/model/group.ts';
import { naturally } from '../../engine/model/naturally.ts';

/** A wire at one of its ends, with its other end. */
export interface EndHere {
  wire: BenchWire;
  end: BenchEnd;
  other: BenchEnd;
  /** The wires in the same terminal, the first of them first; of a terminal of its own this wire alone. */
  inTerminal: readonly string[];
  /** The cover that goes over its terminal, whichever of these wires states it. */
  cover: string | undefined;
}

/** A point with all that ends at it, way by way. */
export interface PointHere {
  point: BenchPoint;
  ends: readonly EndHere[];
}

/** A branch with the points to which it leads; without a branch points of a loom, or of a part of it, that is not drawn. */
export interface Leg {
  branch: BenchBranch | undefined;
  /** The point nearer to the trunk; of the trunk itself, and without a branch, none. */
  inner: string | undefined;
  points: readonly PointHere[];
}

/**
 * The legs of a loom from the trunk outwards, then the points that are on no branch, one a leg. The trunk of all branches
 * that hang together is the one along which the most wires run; of equals the longest. Every point stands in one leg.
 */
export function legsOf(loom: BenchLoom): Leg[] {
  const here = endsByPoint(loom);
  const left = new Set(loom.points.map(({ point }) => point));
  const take = (points: readonly string[]): PointHere[] =>
    points.flatMap((id) => {
      const found = here.get(id);
      return found && left.delete(id) ? [found] : [];
    });
  const drawn = fromTrunk(loom).map(({ branch, inner, outer }): Leg => ({
    branch,
    inner,
    points: take(outer),
  }));
  const others = loom.points
    .map(({ point }) => point)
    .sort(naturally)
    .map((id): Leg => ({ branch: undefined, inner: undefined, points: take([id]) }));
  return [...drawn, ...others.filter(({ points }) => points.length > 0)];
}

interface Reached {
  branch: BenchBranch;
  inner: string | undefined;
  outer: readonly string[];
}

function fromTrunk({ branches, wires, cables }: BenchLoom): Reached[] {
  const along = new Map<string, number>();
  for (const { via = [], inCable } of wires)
    if (inCable === undefined) for (const id of via) along.set(id, (along.get(id) ?? 0) + 1);
  for (const { via = [], cores } of cables)
    for (const id of via) along.set(id, (along.get(id) ?? 0) + Math.max(1, cores.length));
  const at = new Map<string, BenchBranch[]>();
  for (const branch of branches) {
    addTo(at, branch.from, branch);
    if (branch.to !== branch.from) addTo(at, branch.to, branch);
  }
  const byThickness = [...branches].sort(
    (a, b) =>
      (along.get(b.branch) ?? 0) - (along.get(a.branch) ?? 0) ||
      b.lengthMm - a.lengthMm ||
      naturally(a.branch, b.branch),
  );
  const rank = new Map(byThickness.map((branch, index) => [branch, index]));
  const done = new Set<BenchBranch>();
  const legs: Reached[] = [];
  for (const trunk of byThickness) {
    if (done.has(trunk)) continue;
    done.add(trunk);
    legs.push({ branch: trunk, inner: undefined, outer: [trunk.from, trunk.to] });
    const waiting = [trunk.from, trunk.to];
    for (const point of waiting)
      for (const branch of [...(at.get(point) ?? [])].sort(
        (a, b) => (rank.get(a) ?? 0) - (rank.get(b) ?? 0),
      )) {
        if (done.has(branch)) continue;
        done.add(branch);
        const outer = branch.from === point ? branch.to : branch.from;
        legs.push({ branch, inner: point, outer: [outer] });
        waiting.push(outer);
      }
  }
  return legs;
}

function endsByPoint({ points, wires }: BenchLoom): Map<string, PointHere> {
  const ends = new Map<string, EndHere[]>();
  const byId = new Map(wires.map((wire) => [wire.wire, wire]));
  const endHere = (wire: BenchWire, end: BenchEnd, other: BenchEnd): EndHere => {
    const sharing = end.sharesWith ?? [];
    const covers = sharing.map(({ wire: id, side }) => byId.get(id)?.ends[side === 'from' ? 0 : 1].cover);
    return {
      wire,
      end,
      other,
      inTerminal: [...new Set([wire.wire, ...sharing.map((each) => each.wire)])].sort(naturally),
      cover: [end.cover, ...covers].find((cover) => cover !== undefined),
    };
  };
  for (const wire of wires) {
    const [from, to] = wire.ends;
    addTo(ends, from.point, endHere(wire, from, to));
    addTo(ends, to.point, endHere(wire, to, from));
  }
  return new Map(
    points.map((point) => {
      const order = new Map((point.pins ?? []).map((pin, index) => [pin, index]));
      const own = [...(ends.get(point.point) ?? [])].sort(
        (a, b) => pinRank(order, a.end) - pinRank(order, b.end) || byWay(a, b),
      );
      return [point.point, { point, ends: together(own) }] as const;
    }),
  );
}

const pinRank = (order: ReadonlyMap<string, number>, { way }: BenchEnd) => order.get(way ?? '') ?? order.size;

function byWay(a: EndHere, b: EndHere): number {
  return naturally(a.end.way ?? '', b.end.way ?? '') || naturally(a.wire.wire, b.wire.wire);
}

/** Ends in one terminal stand one after the other, where the first of them is. */
function together(ends: readonly EndHere[]): EndHere[] {
  const placed = new Set<EndHere>();
  const byEnd = new Map(ends.map((here) => [keyOf(here), here]));
  return ends.flatMap((here) => {
    if (placed.has(here)) return [];
    const group = [
      here,
      ...(here.end.sharesWith ?? []).flatMap(({ wire, side }) => byEnd.get(`${wire} ${side}`) ?? []),
    ].filter((each) => !placed.has(each));
    for (const each of group) placed.add(each);
    return group.sort((a, b) => naturally(a.wire.wire, b.wire.wire));
  });
}

function keyOf({ wire, end }: EndHere): string {
  return `${wire.wire} ${wire.ends[0] === end ? 'from' : 'to'}`;
}
