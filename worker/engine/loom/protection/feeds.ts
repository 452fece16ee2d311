import { addTo } from '../../model/group.ts';
import type { Part } from '../../model/part.ts';
import { isBatteryMark, isEarthMark, namesEarth } from './markings.ts';
import { fedPosts } from './fuseSites.ts';
import type { EndOf, PointEnds } from './pointEnds.ts';

export interface Feeds {
  /** Places at which current comes in, and whether a fuse outside the loom stands before them. */
  stated: { place: number; fused: boolean }[];
  /** Places at which a pin is marked as the battery’s: somewhere before them current comes in. */
  marked: number[];
  /** Whether a place is earthed. */
  isEarth: (place: number) => boolean;
}

/**
 * Where current comes in: at points that state a feed, and at a battery terminal. Of two battery terminals the earthed one
 * is none; where that cannot be told, neither counts. `regionOf` joins all places that nothing but wire lies between.
 */
export function feedsOf(
  points: readonly PointEnds[],
  parts: ReadonlyMap<string, Part>,
  regionOf: (place: number) => number,
): Feeds {
  const stated: Feeds['stated'] = [];
  const marked: number[] = [];
  const earthed = new Set<number>();
  const batteries = new Map<number, number[]>();
  for (const at of points) {
    const { feed, kind, id, label } = at.point;
    const isStud = kind === 'stud' && namesEarth(id, label);
    for (const { place, fused } of fedPosts(at).map((post) => ({ place: post.place, fused: !!feed?.fuse })))
      stated.push({ place, fused });
    for (const { place, way, ends } of at.posts) {
      if (isStud || isEarthMark(way)) earthed.add(regionOf(place));
      if (at.device && isBatteryMark(way)) marked.push(place);
      if (ends.some((end) => isBatteryTerminal(end, parts))) addTo(batteries, regionOf(place), place);
    }
  }
  const live = [...batteries].filter(([region]) => !earthed.has(region));
  if (live.length === 1) for (const place of live[0]?.[1] ?? []) stated.push({ place, fused: false });
  return { stated, marked, isEarth: (place) => earthed.has(regionOf(place)) };
}

function isBatteryTerminal({ wire, end }: EndOf, parts: ReadonlyMap<string, Part>): boolean {
  const code = wire.asked.terminalOf(end)?.part;
  const part = code === undefined ? undefined : parts.get(code);
  return part?.kind === 'terminal' && part.terminalType === 'battery';
}
