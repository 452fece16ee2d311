import { addTo } from '../../model/group.ts';
import type { FuseSite } from './fuseSites.ts';
import type { Passing } from './passing.ts';

/** Whether a fuse stands between the feed and what is joined here. */
export type Live = 'unfused' | 'fused';

interface Given {
  regionOf: (place: number) => number;
  sites: readonly FuseSite[];
  passings: readonly { passing: Passing; positiveEarth: boolean }[];
}

type Region = number;
type Switch = Extract<Passing, { kind: 'switch' }>;

/**
 * Spreads what is live from the feeds: over wire, through what passes current, and across fuses, behind which all is fused.
 * What is reached without a fuse by any way is unfused. The side from which a fuse was reached is the battery’s.
 */
export class LiveRegions {
  readonly #live = new Map<Region, Live>();
  /** The fuse over which a region was reached. */
  readonly #over = new Map<Region, FuseSite>();
  readonly #reachedFrom = new Map<FuseSite, Region>();
  readonly #bothWays = new Set<FuseSite>();
  readonly #sites = new Map<Region, FuseSite[]>();
  readonly #switches = new Map<Region, Switch[]>();
  readonly #diodes = new Map<Region, Region[]>();
  readonly #passed = new Set<Switch>();
  readonly #given: Given;
  #queue: Region[] = [];
  #touched: Switch[] = [];

  constructor(given: Given) {
    const { regionOf, sites, passings } = given;
    this.#given = given;
    for (const site of sites) {
      // The fuse before a feed lies outside the looms.
      if (!site.holder && !site.inWire) continue;
      for (const region of new Set(site.posts.map(({ place }) => regionOf(place))))
        addTo(this.#sites, region, site);
    }
    for (const { passing, positiveEarth } of passings)
      if (passing.kind === 'diode') {
        const [anode, cathode] = [regionOf(passing.anode), regionOf(passing.cathode)];
        // Where plus is earthed the live side is minus, and current comes to it out of the cathode.
        if (positiveEarth) addTo(this.#diodes, cathode, anode);
        else addTo(this.#diodes, anode, cathode);
      } else if (passing.kind === 'switch')
        for (const region of new Set(passing.places.map(regionOf))) addTo(this.#switches, region, passing);
  }

  of(place: number): Live | undefined {
    return this.#live.get(this.#given.regionOf(place));
  }

  /** The region of a fuse that the feed comes to; undefined where it comes to none, or to both sides of it. */
  before(site: FuseSite): Region | undefined {
    if (site.before !== undefined) return this.#given.regionOf(site.before);
    return this.#bothWays.has(site) ? undefined : this.#reachedFrom.get(site);
  }

  /** Switches through which something is fed. */
  passed(): readonly Switch[] {
    return [...this.#passed];
  }

  feed(place: number, live: Live): void {
    this.#set(this.#given.regionOf(place), live);
  }

  /** Goes on until nothing more is reached. */
  spread(): void {
    while (this.#queue.length > 0 || this.#touched.length > 0) {
      this.#drain();
      const touched = this.#touched;
      this.#touched = [];
      for (const each of touched) this.#pass(each);
    }
  }

  #set(region: Region, live: Live, over?: FuseSite): void {
    const known = this.#live.get(region);
    if (known === 'unfused' || known === live) return;
    this.#live.set(region, live);
    if (over) this.#over.set(region, over);
    else this.#over.delete(region);
    this.#queue.push(region);
  }

  #drain(): void {
    const queue = this.#queue;
    for (const region of queue) {
      const live = this.#live.get(region);
      if (!live) continue;
      for (const site of this.#sites.get(region) ?? []) this.#cross(site, region, live);
      for (const onward of this.#diodes.get(region) ?? []) this.#set(onward, live);
      this.#touched.push(...(this.#switches.get(region) ?? []));
    }
    this.#queue = [];
  }

  #cross(site: FuseSite, region: Region, live: Live): void {
    const { regionOf } = this.#given;
    const known = site.before === undefined ? this.#reachedFrom.get(site) : regionOf(site.before);
    if (known !== undefined && known !== region) {
      if (site.before !== undefined) return;
      const other = this.#live.get(known);
      if (live === 'unfused' && other === 'unfused') this.#bothWays.add(site);
      else if (live === 'unfused') this.#reachedFrom.set(site, region);
      else if (other !== 'unfused' && this.#over.get(region) !== site) this.#bothWays.add(site);
      if (live !== 'unfused') return;
    }
    this.#reachedFrom.set(site, region);
    for (const { place } of site.posts) {
      const onward = regionOf(place);
      if (onward !== region) this.#set(onward, 'fused', site);
    }
  }

  /** A switch with several fed pins may be several switches: nothing is told of it. */
  #pass(each: Switch): void {
    if (this.#passed.has(each)) return;
    const regions = [...new Set(each.places.map(this.#given.regionOf))];
    const fed = regions.filter((region) => this.#live.has(region));
    const live = fed.length === 1 && fed[0] !== undefined ? this.#live.get(fed[0]) : undefined;
    if (!live) return;
    this.#passed.add(each);
    for (const region of regions) this.#set(region, live);
  }
}
