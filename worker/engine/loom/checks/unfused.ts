import { addTo } from '../../model/group.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Circuit, WireOf } from '../graph/circuits.ts';
import { isCoilMark, isMinus } from '../protection/markings.ts';
import { isHolder } from '../protection/fuseSites.ts';
import type { PointEnds, Post } from '../protection/pointEnds.ts';
import type { CheckContext } from './context.ts';
import { atWire } from './eachWire.ts';
import { someOf } from './words.ts';

/**
 * Circuits with a load that current reaches from the feed without a fuse, one finding a circuit; and a note for each loom
 * with loads of which nothing says where current comes in.
 */
export function checkUnfused(context: CheckContext): Finding[] {
  return [...unfused(context), ...noFeed(context)];
}

interface Loaded {
  wire: WireOf;
  points: Set<string>;
}

function unfused({ protection, circuits }: CheckContext): Finding[] {
  const loaded = new Map<Circuit, Loaded>();
  for (const at of protection.points)
    for (const post of loadPosts(at, protection)) {
      const [end] = post.ends;
      if (!end) continue;
      const { asked, wire } = end.wire;
      const circuit = circuits.of(asked.loom.code, wire.id);
      const known = loaded.get(circuit) ?? { wire: end.wire, points: new Set() };
      known.points.add(at.point.id);
      loaded.set(circuit, known);
    }
  return [...loaded].map(([circuit, { wire, points }]) => ({
    code: 'no-fuse',
    severity: 'warning',
    ...atWire(wire),
    subject: `circuit:${circuit.id}`,
    found: `no fuse between the feed and ${someOf([...points])}`,
    limit: 'a fuse for the thinnest wire, near the feed',
    source: 'common practice, no source',
    todo: 'Add a fuse before it, or enter the one that exists. If the vehicle was made without one, as is common for ignition, starter and charging, accept this with a note.',
  }));
}

/** The places of a point at which an unfused feed is used up. */
function loadPosts(at: PointEnds, { live, isEarth, mayFeed }: CheckContext['protection']): Post[] {
  if (at.point.feed || isHolder(at)) return [];
  return at.posts.filter(
    (post) =>
      live(post.place) === 'unfused' &&
      !isEarth(post.place) &&
      usesUp(at, post, isEarth) &&
      // A lamp or coil feeds nothing; of other things one must be what feeds the others.
      (!mayFeed(post.place) || at.device?.deviceType === 'lamp' || at.device?.deviceType === 'relay'),
  );
}

function usesUp(at: PointEnds, post: Post, isEarth: (place: number) => boolean): boolean {
  const { point, device, posts } = at;
  const carries = post.ends.some(({ wire }) => (wire.wire.amps ?? 0) > 0);
  if (device)
    switch (device.deviceType) {
      case 'lamp':
        return true;
      case 'relay':
        return isCoilMark(post.way);
      case 'electronics':
      case 'resistor':
      case 'other':
        return carries;
      case 'fuse':
      case 'fuseHolder':
      case 'flasher':
      case 'diode':
      case 'switch':
      case 'ammeter':
        return false;
    }
  if (!carries) return false;
  if (point.kind === 'device') return true;
  // The plug of a lamp or motor has its earth beside it; a stud with one wire is that of a motor.
  if (point.kind === 'connector')
    return posts.some(({ place, way }) => place !== post.place && (isEarth(place) || isMinus(way)));
  return point.kind === 'stud' && posts.length === 1 && post.ends.length === 1;
}

function noFeed({ protection, looms, circuits }: CheckContext): Finding[] {
  const fed = new Set<number>();
  const loads = new Set<number>();
  const pointsOf = new Map<number, PointEnds[]>();
  for (const at of protection.points) addTo(pointsOf, at.asked.index, at);
  for (const { wires } of circuits.all)
    for (const { asked, wire, from, to } of wires) {
      if ((wire.amps ?? 0) > 0 || wire.fuse) loads.add(asked.index);
      if (protection.live(from) ?? protection.live(to)) fed.add(asked.index);
    }
  for (const [index, points] of pointsOf)
    if (points.some((at) => at.posts.length > 0 && (at.device?.deviceType === 'lamp' || isHolder(at))))
      loads.add(index);
  return looms.flatMap(({ loom, index }): Finding[] => {
    if (!loads.has(index) || fed.has(index)) return [];
    return [
      {
        code: 'feed-not-stated',
        severity: 'note',
        at: pointer(['looms', index]),
        where: `loom ${loom.code}`,
        subject: `loom:${loom.code}`,
        found:
          'it is not stated where current comes into this loom, so it was not checked whether each load has a fuse',
        todo: 'State feed at the point where current comes in, and the fuse before it if there is one outside the loom. A battery terminal needs no feed.',
      },
    ];
  });
}
