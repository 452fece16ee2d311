import type { JobLoom } from '../../model/job.ts';
import { SIDES, type End, type Side } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import { mateOf, type Circuits, type WireOf } from '../graph/circuits.ts';

export type Point = JobLoom['points'][number];
export type Device = Extract<Part, { kind: 'device' }>;

/** An end at a point: the number of the place at which it touches others, and its way. */
export interface EndOf {
  wire: WireOf;
  side: Side;
  end: End;
  place: number;
  way: string | undefined;
}

/** Ends of one place at a point. */
export interface Post {
  place: number;
  /** The way that one of them states. */
  way: string | undefined;
  ends: EndOf[];
}

/** A point with its part and all that ends at it; where two looms meet at it, the ends of both. */
export interface PointEnds {
  asked: AskedLoom;
  point: Point;
  index: number;
  part: Part | undefined;
  device: Device | undefined;
  posts: Post[];
  /** Its pins, as the loom has them, else the part; none where nobody states them. */
  pins: readonly string[];
  /** A connector without its other half in the job, or a flying lead: what lies beyond is not known. */
  open: boolean;
}

/** Every point of the looms, in their order. */
export function pointEnds(
  looms: readonly AskedLoom[],
  parts: ReadonlyMap<string, Part>,
  circuits: Circuits,
): PointEnds[] {
  const points = new Map(
    looms.map(({ loom }) => [loom.code, new Map(loom.points.map((point) => [point.id, point]))]),
  );
  const mated = new Set<Point>();
  const all = new Map<Point, PointEnds>();
  for (const asked of looms)
    asked.loom.points.forEach((point, index) => {
      const part = point.part === undefined ? undefined : parts.get(point.part);
      const device = part?.kind === 'device' ? part : undefined;
      const pins = point.pins?.length ? point.pins : (device?.pins ?? []);
      const open = point.kind === 'connector' || point.kind === 'flyingLead';
      all.set(point, { asked, point, index, part, device, posts: [], pins, open });
      const mate = mateOf(asked.loom.code, point, points);
      if (mate) mated.add(point).add(mate.point);
    });
  for (const point of mated) {
    const known = all.get(point);
    if (known) known.open = false;
  }
  const posts = new Map<Point, Map<number, Post>>();
  const startedAt = (point: Point) => {
    const byPlace = new Map<number, Post>();
    posts.set(point, byPlace);
    return byPlace;
  };
  for (const { wires } of circuits.all)
    for (const wire of wires)
      for (const side of SIDES) {
        const end = wire.wire[side];
        const own = points.get(wire.asked.loom.code)?.get(end.point);
        const brought =
          own?.suppliedByLoom === undefined ? own : (points.get(own.suppliedByLoom)?.get(own.id) ?? own);
        const entry = brought && all.get(brought);
        if (brought && entry)
          addEnd(posts.get(brought) ?? startedAt(brought), {
            wire,
            side,
            end,
            place: wire[side],
            way: end.way,
          });
      }
  for (const [point, byPlace] of posts) all.get(point)?.posts.push(...byPlace.values());
  return [...all.values()];
}

function addEnd(posts: Map<number, Post>, end: EndOf): void {
  const known = posts.get(end.place);
  if (!known) posts.set(end.place, { place: end.place, way: end.way, ends: [end] });
  else {
    known.ends.push(end);
    known.way ??= end.way;
  }
}
