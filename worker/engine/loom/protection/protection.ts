import { addTo } from '../../model/group.ts';
import type { Wire } from '../../model/loom.ts';
import type { Part } from '../../model/part.ts';
import type { AskedLoom } from '../asked.ts';
import type { Circuits, WireOf } from '../graph/circuits.ts';
import { UnionFind } from '../graph/unionFind.ts';
import { feedsOf, type Feeds } from './feeds.ts';
import { carriesOf, extremes, fuseSites, type FuseSite, type Unpaired } from './fuseSites.ts';
import { listedFuses } from './listedFuses.ts';
import type { Fits } from '../../job/fits.ts';
import { LiveRegions, type Live } from './live.ts';
import { passingOf } from './passing.ts';
import { pointEnds, type PointEnds } from './pointEnds.ts';

/** Which fuse stands before which wire: the one answer for all checks. */
export interface Protection {
  points: readonly PointEnds[];
  sites: readonly FuseSite[];
  unpaired: readonly Unpaired[];
  /** The regions behind a fuse; where nothing says on which side the battery is, those of both its sides. */
  behind: (site: FuseSite) => readonly number[];
  /** The region that the feed of a fuse comes to, where that is known. */
  before: (site: FuseSite) => number | undefined;
  /** The wires of a region; one that states a fuse and ends at no holder lies in none. */
  wiresIn: (region: number) => readonly WireOf[];
  /** All that nothing but wire, and what passes current, lies between; no fuse. */
  regionOf: (place: number) => number;
  /** Of the fuses before a wire the one that lets the most through for good, A. */
  mostBefore: (wire: WireOf) => { site: FuseSite; amps: number } | undefined;
  /** Whether a place is fed, and over a fuse or not; undefined where no feed is known to reach it. */
  live: (place: number) => Live | undefined;
  isEarth: Feeds['isEarth'];
  /** Whether current is stated to come in at a place. */
  isFeed: (place: number) => boolean;
  /** Whether what feeds a pin marked as the battery’s is among what hangs on this place: nothing states a feed there. */
  mayFeed: (place: number) => boolean;
  /** Whether one device lies between two regions, beside this one. */
  liesAcross: (a: number, b: number, beside: PointEnds) => boolean;
}

interface Given {
  looms: readonly AskedLoom[];
  parts: ReadonlyMap<string, Part>;
  circuits: Circuits;
  fits: Fits;
}

/**
 * Fuses part the circuits into regions; wires, and devices that pass current, join them. A fuse protects the region behind
 * it. Which side that is follows from the names of its ways, else from where current is stated to come in; where neither
 * says, both sides count as behind it.
 */
export function protectionOf({ looms, parts, circuits, fits }: Given): Protection {
  const points = pointEnds(looms, parts, circuits);
  const wires = circuits.all.flatMap((circuit) => circuit.wires);
  const { sites, unpaired, inWires } = fuseSites(points, wires, listedFuses(looms, parts, fits));
  const regions = new Regions();
  for (const { wire, from, to } of wires) if (!inWires.has(wire)) regions.join(from, to);
  const passings = points.flatMap((at) => {
    const passing = passingOf(at);
    return passing ? [{ passing, positiveEarth: at.asked.loom.earth === 'positive' }] : [];
  });
  for (const { passing } of passings) if (passing.kind === 'joined') regions.joinAll(passing.places);
  const narrow = regions.snapshot(wires, points);
  const feeds = feedsOf(points, parts, narrow);
  const live = new LiveRegions({ regionOf: narrow, sites, passings });
  for (const { place, fused } of feeds.stated) live.feed(place, fused ? 'fused' : 'unfused');
  live.spread();
  const feeding = feedMarked(feeds.marked, { live, narrow, sites, points, isEarth: feeds.isEarth });
  for (const { places } of live.passed()) regions.joinAll(places);
  const regionOf = regions.snapshot(wires, points);
  const beforeOf = new Map(
    sites.map((site) => {
      const before = live.before(site);
      const post = site.posts.find(({ place }) => narrow(place) === before);
      return [site, post && regionOf(post.place)] as const;
    }),
  );
  const inRegion = new Map<number, WireOf[]>();
  for (const wire of wires) if (!inWires.has(wire.wire)) addTo(inRegion, regionOf(wire.from), wire);
  const behind = (site: FuseSite): number[] => {
    const all = [...new Set(site.posts.map(({ place }) => regionOf(place)))];
    return all.filter((region) => region !== beforeOf.get(site));
  };
  const sitesBefore = new Map<number, FuseSite[]>();
  const own = new Map<Wire, FuseSite[]>();
  for (const site of sites) {
    if (site.inWire) own.set(site.inWire.wire, [site]);
    for (const region of behind(site)) addTo(sitesBefore, region, site);
  }
  const fedAt = new Set(feeds.stated.map(({ place }) => place));
  const strongest = new Map([...sitesBefore].map(([region, before]) => [region, mostOf(before)] as const));
  return {
    points,
    sites,
    unpaired,
    behind,
    before: (site) => beforeOf.get(site),
    wiresIn: (region) => inRegion.get(region) ?? [],
    regionOf,
    mostBefore: ({ wire, from }) => {
      const mine = own.get(wire);
      return mine ? mostOf(mine) : strongest.get(regionOf(from));
    },
    live: (place) => live.of(place),
    isEarth: feeds.isEarth,
    mayFeed: (place) => feeding.has(narrow(place)),
    isFeed: (place) => fedAt.has(place),
    liesAcross: acrossOf(points, regionOf),
  };
}

function acrossOf(
  points: readonly PointEnds[],
  regionOf: (place: number) => number,
): Protection['liesAcross'] {
  // Few ask, so it is only gathered when the first one does.
  let devices: Map<number, Set<PointEnds>> | undefined;
  return (a, b, beside) => {
    if (!devices) {
      devices = new Map();
      for (const at of points)
        if (at.point.kind === 'device')
          for (const { place } of at.posts) {
            const there = devices.get(regionOf(place)) ?? new Set();
            devices.set(regionOf(place), there.add(at));
          }
    }
    const [there, others] = [devices.get(a), devices.get(b)];
    return [...(there ?? [])].some((at) => at !== beside && others?.has(at) === true);
  };
}

function mostOf(sites: readonly FuseSite[]): { site: FuseSite; amps: number } | undefined {
  return sites.reduce<{ site: FuseSite; amps: number } | undefined>((best, site) => {
    const most = extremes(site)?.most;
    const amps = most && carriesOf(most);
    return amps === undefined || (best && best.amps >= amps) ? best : { site, amps };
  }, undefined);
}

/**
 * A pin that is marked as the battery’s is fed from somewhere. That no fuse stands before it is known only where none lies
 * at the border of its region, and nothing of the region leads out of the looms. Answers the regions that are fed so.
 */
function feedMarked(
  marked: readonly number[],
  {
    live,
    narrow,
    sites,
    points,
    isEarth,
  }: {
    live: LiveRegions;
    narrow: (place: number) => number;
    sites: readonly FuseSite[];
    points: readonly PointEnds[];
    isEarth: Feeds['isEarth'];
  },
): ReadonlySet<number> {
  const waiting = marked.filter((place) => live.of(place) === undefined && !isEarth(place));
  if (waiting.length === 0) return new Set();
  const uncertain = new Set([
    ...sites.flatMap(({ posts }) => posts.map(({ place }) => narrow(place))),
    ...points.filter(({ open }) => open).flatMap(({ posts }) => posts.map(({ place }) => narrow(place))),
  ]);
  const fed = waiting.filter((place) => !uncertain.has(narrow(place)));
  for (const place of fed) live.feed(place, 'unfused');
  live.spread();
  return new Set(fed.map(narrow));
}

/** Places that are joined without a fuse between. */
class Regions {
  readonly #sets = new UnionFind();
  readonly #members = new Map<number, number>();

  join(a: number, b: number): void {
    this.#sets.join(this.#member(a), this.#member(b));
  }

  joinAll([first, ...others]: readonly number[]): void {
    for (const other of others) if (first !== undefined) this.join(first, other);
  }

  /** The regions as they are now, whatever is joined later. */
  snapshot(wires: readonly WireOf[], points: readonly PointEnds[]): (place: number) => number {
    const now = new Map<number, number>();
    const add = (place: number) => now.set(place, this.#sets.find(this.#member(place)));
    for (const { from, to } of wires) {
      add(from);
      add(to);
    }
    for (const { posts } of points) for (const { place } of posts) add(place);
    return (place) => now.get(place) ?? -1;
  }

  #member(place: number): number {
    const known = this.#members.get(place) ?? this.#sets.add();
    this.#members.set(place, known);
    return known;
  }
}
