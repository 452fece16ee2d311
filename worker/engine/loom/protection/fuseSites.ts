import { addTo } from '../../model/group.ts';
import type { Fuse } from '../../model/loom.ts';
import { continuousAmps } from '../../trade/fuses.ts';
import type { WireOf } from '../graph/circuits.ts';
import { pairWays } from './pairWays.ts';
import { namesFuse } from './markings.ts';
import type { EndOf, PointEnds, Post } from './pointEnds.ts';

/** A fuse’s figures, with where they are stated. */
export interface StatedFuse extends Fuse {
  /** "part fuse-25", "wire W3", "the loom’s list of parts" */
  by: string;
  from: 'part' | 'wire' | 'list' | 'feed';
  /** Stated without a basis, and taken as carried for good, which is the cautious reading. */
  basisTaken?: boolean;
}

/** A place where one fuse stands: in a holder, in a wire that states one and ends at no holder, or before a feed. */
export interface FuseSite {
  holder: PointEnds | undefined;
  /** The wire that states it, where it stands in no holder. */
  inWire: WireOf | undefined;
  /** The places that it parts. */
  posts: readonly Post[];
  /** The place that the feed comes to, where the names of the ways or the feeds tell. */
  before: number | undefined;
  /** All figures stated of it; none where nobody states any. */
  fuses: StatedFuse[];
}

/** A holder, and those of its places of which nothing says which fuse they belong to. */
export interface Unpaired {
  holder: PointEnds;
  posts: readonly Post[];
}

export interface Sites {
  sites: FuseSite[];
  unpaired: Unpaired[];
  /** Wires that state a fuse and end at no holder. */
  inWires: ReadonlySet<WireOf['wire']>;
}

/** Every fuse of the looms. */
export function fuseSites(points: readonly PointEnds[], wires: readonly WireOf[], listed: ListedFor): Sites {
  const holders = points.filter(isHolder);
  const unpaired: Unpaired[] = [];
  const sites = holders.flatMap((holder) => {
    const { found, left } = sitesOf(holder);
    if (left.length > 0) unpaired.push({ holder, posts: left });
    return found;
  });
  const atPost = new Map<Post, FuseSite[]>();
  for (const site of sites) for (const post of site.posts) addTo(atPost, post, site);
  addByWires(holders, atPost);
  for (const site of sites)
    if (site.fuses.length === 0 && site.holder) site.fuses.push(...listed(site.holder));
  const held = new Set(holders.flatMap(({ posts }) => posts.flatMap(({ ends }) => ends.map(wireOf))));
  const loose = wires.filter(({ wire }) => wire.fuse && !held.has(wire));
  return {
    sites: [...sites, ...loose.map(inWireSite), ...points.flatMap(beforeFeed)],
    unpaired,
    inWires: new Set(loose.map(({ wire }) => wire)),
  };
}

/** The fuse that a list of parts says is in a holder, where only one can be. */
export type ListedFor = (holder: PointEnds) => StatedFuse[];

const wireOf = ({ wire }: EndOf) => wire.wire;

/** A fuse or holder by its part; else a device or connector that is called a fuse and at which a wire states one. */
export function isHolder({ point, device, part, posts }: PointEnds): boolean {
  if (device?.deviceType === 'fuse' || device?.deviceType === 'fuseHolder') return true;
  if (device ? device.deviceType !== 'other' : point.kind !== 'device' && point.kind !== 'connector')
    return false;
  return (
    namesFuse(point.id, point.label, part?.description) &&
    posts.some(({ ends }) => ends.some(({ wire }) => wire.wire.fuse))
  );
}

function sitesOf(holder: PointEnds): { found: FuseSite[]; left: readonly Post[] } {
  const { posts, device, pins } = holder;
  const own = ofPart(holder);
  const site = (at: readonly Post[], before?: Post): FuseSite => ({
    holder,
    inWire: undefined,
    posts: at,
    before: before?.place,
    fuses: own ? [own] : [],
  });
  if (posts.length === 0) return { found: [], left: [] };
  const ways = posts.flatMap(({ way }) => way ?? []);
  const nameless = posts.filter(({ way }) => way === undefined);
  const single = device?.deviceType === 'fuse' || new Set([...pins, ...ways]).size <= 2;
  if (nameless.length > 0) {
    if (single && posts.length <= 2) return { found: [site(posts)], left: [] };
    const alike = single || own !== undefined;
    // Whichever way round: all that ends there is before or behind a fuse of these figures.
    if (alike && (own !== undefined || statedAt(posts).length === 1))
      return { found: [site(posts)], left: [] };
    if (ways.length === 0) return byWires(posts, site);
  }
  const byWay = new Map(posts.map((post) => [post.way, post]));
  const found = pairWays(pins, ways).flatMap((pair): FuseSite[] => {
    const at = pair.ways.flatMap((way) => byWay.get(way) ?? []);
    return at.length === 0 ? [] : [site(at, pair.before === undefined ? undefined : byWay.get(pair.before))];
  });
  const used = new Set(found.flatMap((each) => each.posts));
  const left = posts.filter((post) => !used.has(post));
  return own !== undefined && left.length > 0 ? { found: [...found, site(left)], left: [] } : { found, left };
}

/** Where no way is named, wires that state a fuse of their own tell: the one that states none feeds them all. */
function byWires(
  posts: readonly Post[],
  site: (at: readonly Post[], before?: Post) => FuseSite,
): { found: FuseSite[]; left: readonly Post[] } {
  const fused = posts.filter((post) => statedAt([post]).length > 0);
  const others = posts.filter((post) => !fused.includes(post));
  const [feed, ...more] = others;
  if (fused.length < 2 || more.length > 0) return { found: [], left: posts };
  return { found: fused.map((post) => (feed ? site([feed, post], feed) : site([post]))), left: [] };
}

/** The different figures that wires at these places state. */
function statedAt(posts: readonly Post[]): string[] {
  return [
    ...new Set(
      posts.flatMap(({ ends }) =>
        ends.flatMap(({ wire: { wire } }) =>
          wire.fuse ? [`${wire.fuse.ratingAmps} ${wire.fuse.basis}`] : [],
        ),
      ),
    ),
  ];
}

/** A fuse is its own rating; what a holder is rated for is the fuse in it only where it says on which basis. */
function ofPart({ device }: PointEnds): StatedFuse | undefined {
  if (device?.ratedAmps === undefined) return undefined;
  const by = `part ${device.code}`;
  const { ratedAmps: ratingAmps, fuseBasis: basis, deviceType } = device;
  if (basis !== undefined) return { ratingAmps, basis, by, from: 'part' };
  return deviceType === 'fuse'
    ? { ratingAmps, basis: 'continuous', by, from: 'part', basisTaken: true }
    : undefined;
}

/** A wire that states a fuse, with the sites at each of its ends that is at a holder. */
interface Stating {
  of: WireOf;
  ends: { post: Post; sites: FuseSite[] }[];
}

/**
 * What wires state of the fuses at their ends: first wires at one holder where it can be of one fuse only, then those between
 * two holders, then feeds that several fuses share.
 */
function addByWires(holders: readonly PointEnds[], atPost: ReadonlyMap<Post, FuseSite[]>): void {
  const stating = statingWires(holders, atPost);
  const isAtOne = ({ ends }: Stating) => ends.length === 1;
  for (const each of [...stating.filter(isAtOne), ...stating.filter((other) => !isAtOne(other))])
    for (const site of meant(each)) site.fuses.push(...byWire(each.of));
  for (const { of, ends } of stating)
    if (!ends.some(isOfOne))
      for (const site of ends.flatMap(({ sites }) => sites))
        if (!site.fuses.some(({ from }) => from === 'wire')) site.fuses.push(...byWire(of));
}

function statingWires(
  holders: readonly PointEnds[],
  atPost: ReadonlyMap<Post, FuseSite[]>,
): readonly Stating[] {
  const found = new Map<WireOf['wire'], Stating>();
  for (const { posts } of holders)
    for (const post of posts)
      for (const { wire } of post.ends) {
        const sites = atPost.get(post);
        if (!wire.wire.fuse || !sites) continue;
        const known = found.get(wire.wire) ?? { of: wire, ends: [] };
        known.ends.push({ post, sites });
        found.set(wire.wire, known);
      }
  return [...found.values()];
}

const isOfOne = ({ sites }: Stating['ends'][number]) => sites.length === 1;

/**
 * The fuses that a wire may mean. Between two holders: the one that says the same, else those of which nothing else is
 * stated, and of several that which the wire leaves, not that which it feeds.
 */
function meant({ of, ends }: Stating): FuseSite[] {
  const single = ends.filter(isOfOne).flatMap(({ post, sites }) => sites.map((site) => ({ post, site })));
  const leaving = (list: typeof single) => {
    const left = list.filter(({ post, site }) => site.before !== undefined && site.before !== post.place);
    return left.length > 0 ? left : list;
  };
  const alike = single.filter(({ site }) => site.fuses.some((fuse) => isSame(fuse, of.wire.fuse)));
  const silent = single.filter(({ site }) => site.fuses.length === 0);
  const chosen = alike.length > 0 ? alike : leaving(silent.length > 0 ? silent : single);
  return chosen.map(({ site }) => site);
}

function isSame(a: Fuse, b: Fuse | undefined): boolean {
  return a.ratingAmps === b?.ratingAmps && a.basis === b.basis;
}

function byWire({ wire }: WireOf): StatedFuse[] {
  return wire.fuse ? [{ ...wire.fuse, by: `wire ${wire.id}`, from: 'wire' }] : [];
}

function inWireSite(of: WireOf): FuseSite {
  const posts = (['from', 'to'] as const).map((side) => ({
    place: of[side],
    way: of.wire[side].way,
    ends: [{ wire: of, side, end: of.wire[side], place: of[side], way: of.wire[side].way }],
  }));
  return { holder: undefined, inWire: of, posts, before: undefined, fuses: byWire(of) };
}

/** The fuse outside the loom before what a point feeds. */
function beforeFeed(at: PointEnds): FuseSite[] {
  const { feed, id } = at.point;
  if (!feed?.fuse) return [];
  const fuses: StatedFuse[] = [{ ...feed.fuse, by: `the feed of point ${id}`, from: 'feed' }];
  return fedPosts(at).map((post) => ({
    holder: undefined,
    inWire: undefined,
    posts: [post],
    before: undefined,
    fuses: [...fuses],
  }));
}

/** The places of a point at which it says that current comes in. */
export function fedPosts({ point: { feed }, posts }: PointEnds): Post[] {
  if (!feed) return [];
  return posts.filter(({ way }) => !feed.ways || (way !== undefined && feed.ways.includes(way)));
}

/** The figures by which a fuse carries the most and the least for good. */
export function extremes({ fuses }: FuseSite): { most: StatedFuse; least: StatedFuse } | undefined {
  const [first] = fuses;
  if (!first) return undefined;
  const sorted = [...fuses].sort((a, b) => carriesOf(a) - carriesOf(b));
  return { least: sorted[0] ?? first, most: sorted.at(-1) ?? first };
}

export function carriesOf({ ratingAmps, basis }: Fuse): number {
  return continuousAmps(ratingAmps, basis);
}
