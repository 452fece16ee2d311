import { addTo } from '../../model/group.ts';
import type { WireOf } from '../graph/circuits.ts';
import type { FuseSite } from '../protection/fuseSites.ts';
import type { CheckContext } from './context.ts';
import type { WirePlace } from './eachWire.ts';

/** A wire with what it is rated for, and where that stands. */
export interface Rated extends WirePlace {
  amps: number;
  source: string;
}

/**
 * Finds the smallest rated wire behind a fuse: of the regions behind it, the wire in which it stands, and the wires that
 * state the name of a circuit behind it and before which no fuse is known.
 */
export function smallestBehind(context: CheckContext): (site: FuseSite) => Rated | undefined {
  const { circuits, figures, protection } = context;
  const rated = ({ asked, wire, index }: WireOf): Rated | undefined => {
    const rating = figures.of(wire).ratedAmps;
    return rating && { asked, wire, index, amps: rating.value, source: rating.source };
  };
  const least = (wires: readonly WireOf[]) =>
    wires.reduce<Rated | undefined>((found, each) => smaller(found, rated(each)), undefined);
  const inRegion = new Map<number, { least: Rated | undefined }>();
  const ofRegion = (region: number) => {
    const known = inRegion.get(region) ?? { least: least(protection.wiresIn(region)) };
    inRegion.set(region, known);
    return known.least;
  };
  const ofGroup = unguarded(context, rated);
  const groupOf = ({ asked, wire }: WireOf) => {
    const { group, names } = circuits.of(asked.loom.code, wire.id);
    return names.length > 0 ? group : undefined;
  };
  return (site) => {
    const before = protection.before(site);
    const behind = protection.behind(site);
    const near = site.posts
      .filter(({ place }) => behind.includes(protection.regionOf(place)))
      .flatMap(({ ends }) => ends.map(({ wire }) => wire));
    const groups = new Set(near.flatMap((wire) => groupOf(wire) ?? []));
    return [
      ...behind.map(ofRegion),
      site.inWire && rated(site.inWire),
      ...[...groups].map((group) => ofGroup.get(group)?.find(({ region }) => region !== before)?.least),
    ].reduce<Rated | undefined>(smaller, undefined);
  };
}

function smaller(a: Rated | undefined, b: Rated | undefined): Rated | undefined {
  return !a || (b && b.amps < a.amps) ? b : a;
}

/**
 * Of each named circuit the smallest wire of each of its regions, the smallest first, where no fuse is known before the
 * region and it is not known to be live without one.
 */
function unguarded(
  { circuits, protection }: CheckContext,
  rated: (wire: WireOf) => Rated | undefined,
): Map<number, { region: number; least: Rated }[]> {
  const ofGroup = new Map<number, Map<number, Rated>>();
  for (const { group, names, wires } of circuits.all) {
    if (names.length === 0) continue;
    const regions = ofGroup.get(group) ?? new Map<number, Rated>();
    ofGroup.set(group, regions);
    for (const each of wires) {
      const { from } = each;
      // What leads back to earth bears the circuit's name too, and lies behind the load.
      if (protection.isEarth(from) || protection.isEarth(each.to)) continue;
      if (protection.mostBefore(each) || protection.live(from) === 'unfused') continue;
      const region = protection.regionOf(each.from);
      const found = smaller(regions.get(region), rated(each));
      if (found) regions.set(region, found);
    }
  }
  const sorted = new Map<number, { region: number; least: Rated }[]>();
  for (const [group, regions] of ofGroup)
    for (const [region, least] of [...regions].sort(([, a], [, b]) => a.amps - b.amps))
      addTo(sorted, group, { region, least });
  return sorted;
}
