import { addTo } from '../../model/group.ts';
import type { JobLoom } from '../../model/job.ts';
import { joinOf, SIDES, type End, type Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import { UnionFind } from './unionFind.ts';

/** A wire with its loom, its place in the loom's list, and the places at which its ends touch others: one number a place. */
export interface WireOf {
  asked: AskedLoom;
  wire: Wire;
  index: number;
  from: number;
  to: number;
}

type Point = JobLoom['points'][number];
type Points = ReadonlyMap<string, ReadonlyMap<string, Point>>;

/**
 * Where ends of wires touch: in one terminal, one way, one joint, stud or joiner, and through halves that are plugged
 * together, way for way; halves of one wire each need no way. An end that touches none has a place of its own.
 */
export function joinedWires(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
): { wires: WireOf[]; places: UnionFind } {
  const places = new UnionFind();
  const nodes = new Map<string, number>();
  const node = (...key: string[]): number => {
    const name = JSON.stringify(key);
    const known = nodes.get(name) ?? places.add();
    nodes.set(name, known);
    return known;
  };
  const points: Points = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  const waysUsed = new Map<string, Set<string>>();
  const nameless = new Map<string, number[]>();
  const wires: WireOf[] = looms.flatMap((asked) =>
    asked.loom.wires.map((wire, index) => {
      const ends = { from: places.add(), to: places.add() };
      for (const side of SIDES) {
        const end = wire[side];
        const point = points.get(asked.loom.code)?.get(end.point);
        if (!point) continue;
        const place = [owner(asked.loom.code, point, points), end.point];
        for (const key of joinedAt(end, point, parts)) places.join(ends[side], node(...place, ...key));
        if (end.way !== undefined) {
          const ways = waysUsed.get(JSON.stringify(place)) ?? new Set();
          waysUsed.set(JSON.stringify(place), ways.add(end.way));
        } else addTo(nameless, JSON.stringify(place), ends[side]);
      }
      return { asked, wire, index, ...ends };
    }),
  );
  for (const { loom } of looms)
    for (const point of loom.points) {
      const mate = mateOf(loom.code, point, points);
      if (!mate) continue;
      const here = [owner(loom.code, point, points), point.id];
      const there = [owner(mate.loom, mate.point, points), mate.point.id];
      const ways = [here, there].flatMap((place) => [...(waysUsed.get(JSON.stringify(place)) ?? [])]);
      for (const way of ways) places.join(node(...here, 'way', way), node(...there, 'way', way));
      const [ours, theirs] = [here, there].map((place) => nameless.get(JSON.stringify(place)) ?? []);
      if (ways.length > 0 || ours?.length !== 1 || theirs?.length !== 1) continue;
      for (const end of theirs) places.join(ours[0] ?? end, end);
    }
  for (const wire of wires) for (const side of SIDES) wire[side] = places.find(wire[side]);
  return { wires, places };
}

/** The half that a point is plugged into, where its loom is in the job. */
export function mateOf(
  loom: string,
  { matedTo }: Point,
  points: Points,
): { loom: string; point: Point } | undefined {
  if (!matedTo) return undefined;
  const other = matedTo.loom ?? loom;
  const point = points.get(other)?.get(matedTo.point);
  return point && { loom: other, point };
}

/** The loom that has a point: where another brings it, that one. */
function owner(loom: string, point: Point, points: Points): string {
  const other = point.suppliedByLoom;
  return other !== undefined && points.get(other)?.has(point.id) ? other : loom;
}

/** What an end is joined with at its point: the ends that have one of these keys too. */
function joinedAt(end: End, { kind, part }: Point, parts: ReadonlyMap<string, Part>): string[][] {
  const keys: string[][] = [];
  if (end.sharesTerminal !== undefined) keys.push(['terminal', end.sharesTerminal]);
  if (end.way !== undefined && kind !== 'joint' && kind !== 'stud') keys.push(['way', end.way]);
  if (
    joinOf(end) === 'joint' ||
    kind === 'joint' ||
    kind === 'stud' ||
    (kind === 'joiner' && (end.way === undefined || joinsAll(parts.get(part ?? ''))))
  )
    keys.push(['all']);
  return keys;
}

/** A sleeve, a splice or whatever takes two joins them, whatever its ends are called; a block may have several rows. */
export function joinsAll(part: Part | undefined): boolean {
  return (
    part?.kind === 'joiner' &&
    (part.joinerType === 'sleeve' || part.joinerType === 'splice' || part.positions <= 2)
  );
}
