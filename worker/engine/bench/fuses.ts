import type { BenchTests, TestedFuse } from '../model/benchTests.ts';
import { addTo } from '../model/group.ts';
import type { AskedLoom } from '../loom/asked.ts';
import { extremes, type FuseSite } from '../loom/protection/fuseSites.ts';
import type { PointEnds, Post } from '../loom/protection/pointEnds.ts';
import type { Protection } from '../loom/protection/protection.ts';
import type { OwnCircuits } from './circuits.ts';
import type { OnBench } from './onBench.ts';
import type { BenchPlaces } from './places.ts';

/** What is known of the fuse holders at which a loom ends, whichever loom brings them. */
export interface FusesOf {
  sites: readonly { holder: PointEnds; site: FuseSite }[];
  /** Holders of which nothing says which ways one fuse joins. */
  unpaired: readonly PointEnds[];
}

/** The fuses in holders, by the looms that end at them. */
export function fusesByLoom({ sites, unpaired }: Protection): (asked: AskedLoom) => FusesOf {
  const bySite = new Map<AskedLoom, FusesOf['sites'][number][]>();
  const open = new Map<AskedLoom, Set<PointEnds>>();
  const isOpen = (posts: readonly Post[], holder: PointEnds) => {
    for (const asked of loomsAt(posts)) open.set(asked, (open.get(asked) ?? new Set()).add(holder));
  };
  for (const site of sites) {
    const { holder, posts } = site;
    if (!holder) continue;
    if (posts.length > 2) isOpen(posts, holder);
    else for (const asked of loomsAt(posts)) addTo(bySite, asked, { holder, site });
  }
  for (const { holder, posts } of unpaired) isOpen(posts, holder);
  return (asked) => ({ sites: bySite.get(asked) ?? [], unpaired: [...(open.get(asked) ?? [])] });
}

function loomsAt(posts: readonly Post[]): Set<AskedLoom> {
  return new Set(posts.flatMap(({ ends }) => ends.map(({ wire }) => wire.asked)));
}

/** A row for each fuse of which both sides are in this loom; on the bench where its holder is there. */
export function fusesOnBench(
  asked: AskedLoom,
  known: FusesOf,
  points: ReadonlyMap<string, OnBench>,
  places: BenchPlaces,
  circuits: OwnCircuits,
  mayBeep: (a: number, b: number) => boolean,
): { fuses: TestedFuse[]; unknown: BenchTests['notTested'] } {
  const placeIn = (post: Post | undefined): number | undefined => {
    const end = post?.ends.find(({ wire }) => wire.asked === asked);
    return end && places.of(end.wire.wire, end.side);
  };
  const fuses = known.sites.flatMap(({ holder, site }): TestedFuse[] => {
    const before = site.posts.find(({ place }) => place === site.before) ?? site.posts[0];
    const [a, b] = [placeIn(before), placeIn(site.posts.find((post) => post !== before))];
    if (a === undefined || b === undefined) return [];
    const isLate = places.at(a).late || places.at(b).late;
    const here = !isLate && holder.asked === asked && points.get(holder.point.id)?.here === true;
    const fuse = extremes(site)?.least;
    return [
      {
        point: holder.point.id,
        a: places.briefly(a),
        b: places.briefly(b),
        ...(fuse ? { ratingAmps: fuse.ratingAmps, basis: fuse.basis } : {}),
        when: here ? 'bench' : 'fitted',
        ...(here && mayBeep(circuits.at(a), circuits.at(b)) ? { parallel: true as const } : {}),
      },
    ];
  });
  return {
    fuses,
    unknown: known.unpaired.map(({ point }) => ({ point: point.id, why: 'fuseWaysUnknown' as const })),
  };
}
