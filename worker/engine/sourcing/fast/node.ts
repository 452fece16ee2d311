import { UNUSED, isSettled, settledBand, type Allowed } from './allowed.ts';
import type { Dual, Relaxation } from './dual.ts';
import type { Network } from './network.ts';
import type { Alive } from './planStore.ts';
import { bandCredit } from './sellerSide.ts';

/** A part of the search: what sellers are allowed, plans that are of use there, prices, and the bound that these give. */
export interface Node {
  allowed: Allowed;
  alive: Alive;
  dual: Dual;
  bound: number;
  /** By seller and band, and by seller: how often the relaxation used it of late. */
  bandUse: Float32Array;
  use: Float32Array;
  /** By block: how often its cheapest plan changed of late. */
  flips: Uint8Array;
  /** By link: 1 where its block may not use it; 1 where it must. */
  banned: Uint8Array;
  must: Uint8Array;
  /** How often its known plans have been chosen from, each time more of them. */
  tried: number;
  /** Whether all its plans are at hand, those of three sellers and more too. */
  complete: boolean;
}

/** Bands of all sellers in one row: where each seller’s begin. */
export function bandPlaces({ sellers }: Network): Int32Array {
  const places = new Int32Array(sellers.length + 1);
  sellers.forEach(({ bands }, s) => (places[s + 1] = places[s]! + bands.length));
  return places;
}

export function rootNode(network: Network, alive: Alive, insisted: ReadonlySet<string>): Node {
  const { sellers, links } = network;
  const places = bandPlaces(network);
  return {
    allowed: Int32Array.from(sellers, ({ bands, own, code }, s) => {
      if ((network.linksOfSeller[s]?.length ?? 0) === 0) return UNUSED;
      const all = (1 << bands.length) - 1;
      return !own && insisted.has(code) ? all : all | UNUSED;
    }),
    alive,
    dual: { toll: new Float64Array(links), credit: new Float64Array(sellers.length) },
    bound: -Infinity,
    bandUse: new Float32Array(places[sellers.length]!),
    use: new Float32Array(sellers.length),
    flips: new Uint8Array(network.blocks.length),
    banned: new Uint8Array(network.links),
    must: new Uint8Array(network.links),
    tried: 0,
    complete: false,
  };
}

/** The node with a seller allowed less. */
export function childOf(network: Network, node: Node, s: number, allowed: number): Node {
  const { toll, credit } = node.dual;
  const kid = {
    ...node,
    allowed: node.allowed.slice(),
    dual: { toll: toll.slice(), credit: credit.slice() },
  };
  narrow(network, kid, s, allowed);
  return kid;
}

/** Allows a seller less; the node's prices bound no worse than they did. */
export function narrow(network: Network, node: Node, s: number, allowed: number): void {
  const { toll, credit } = node.dual;
  node.allowed[s] = allowed;
  if (!isSettled(allowed)) return;
  const band = settledBand(allowed);
  if (band >= 0) credit[s] = bandCredit(network, s, band, toll);
  for (const link of network.linksOfSeller[s]!) toll[link] = 0;
}

interface Ascent {
  /** At most so many looks. */
  looks: number;
  /** The first step, as a share of what lies between the bound and the goal. */
  share: number;
  /** A bound as high as this is enough. */
  goal: number;
  /** What the steps aim at: the best cost known. */
  target: number;
}

const MOMENTUM = 0.6;
const SHRINK = 0.6;
const PATIENCE = 6;
/** A rise of less than this share of the target is none. */
const LEAST_RISE = 0.0001;
const POLISH_PASSES = 3;
const HALVINGS = 12;
/** Goods are counted in this many minor units, to be of a size with links. */
const GOODS_UNIT = 1000;

/**
 * Raises a node’s bound by steps along deflected subgradients (after Polyak 1969 and Camerini, Fratta & Maffioli 1975, the
 * formulas from memory), and keeps the prices at which it was highest. Any prices give a true bound.
 */
export class Climber {
  readonly #relaxation: Relaxation;
  readonly #ofLinks: Float64Array;
  readonly #ofSellers: Float64Array;
  readonly #bestToll: Float64Array;
  readonly #bestCredit: Float64Array;
  readonly #places: Int32Array;
  readonly #plans: Int32Array;

  constructor(relaxation: Relaxation) {
    const { links, sellers } = relaxation.network;
    this.#relaxation = relaxation;
    this.#ofLinks = new Float64Array(links);
    this.#ofSellers = new Float64Array(sellers.length);
    this.#bestToll = new Float64Array(links);
    this.#bestCredit = new Float64Array(sellers.length);
    this.#places = bandPlaces(relaxation.network);
    this.#plans = new Int32Array(relaxation.network.blocks.length);
  }

  /** Leaves the node with its best prices; `settle` says what they bound. Returns what its steps have shrunk to. */
  climb(node: Node, { looks, share, goal, target }: Ascent): number {
    const { toll, credit } = node.dual;
    node.use = node.use.slice();
    node.bandUse = node.bandUse.slice();
    node.flips = new Uint8Array(node.flips.length);
    this.#ofLinks.fill(0);
    this.#ofSellers.fill(0);
    this.#bestToll.set(toll);
    this.#bestCredit.set(credit);
    let best = -Infinity;
    let stalled = 0;
    let size = share;
    for (let at = 0; at < looks; at++) {
      const bound = this.#relaxation.at(node);
      this.#remember(node, at > 0);
      if (bound > best) {
        stalled = bound > best + LEAST_RISE * target ? 0 : stalled + 1;
        best = bound;
        this.#bestToll.set(toll);
        this.#bestCredit.set(credit);
      } else stalled++;
      if (bound >= goal || bound === Infinity) break;
      if (stalled >= PATIENCE) {
        size *= SHRINK;
        stalled = 0;
        toll.set(this.#bestToll);
        credit.set(this.#bestCredit);
        this.#ofLinks.fill(0);
        this.#ofSellers.fill(0);
        if (size < share * 0.02) break;
        continue;
      }
      const length = this.#direct(node);
      if (length < 1e-12) break;
      this.#step(node, (size * Math.max(target - bound, target * 1e-4)) / length);
    }
    toll.set(this.#bestToll);
    credit.set(this.#bestCredit);
    return size;
  }

  /**
   * Where all sellers are settled: the best credit of one seller after another, by halving. Few limits bind, and for each of
   * these alone the bound has one top.
   */
  polish(node: Node): void {
    const { look, network } = this.#relaxation;
    const { credit } = node.dual;
    let best = this.#relaxation.at(node);
    for (let pass = 0; pass < POLISH_PASSES; pass++) {
      const before = best;
      for (let s = 0; s < network.sellers.length; s++) {
        const band = settledBand(node.allowed[s]!);
        if (band < 0) continue;
        const { lower, below, held, rate } = network.sellers[s]!.bands[band]!;
        const kept = credit[s]!;
        if (kept === 0 && look.goods[s]! >= lower && !(held && look.goods[s]! > below)) continue;
        let [low, high] = [held ? -rate : 0, lower > 0 ? rate : 0];
        let at = kept;
        for (let halving = 0; halving < HALVINGS; halving++) {
          credit[s] = (low + high) / 2;
          const bound = this.#relaxation.at(node);
          if (bound > best) {
            best = bound;
            at = credit[s]!;
          }
          const goods = look.goods[s]!;
          const missing = credit[s]! >= 0 ? lower - goods : below - goods;
          if (missing > 0) low = credit[s]!;
          else high = credit[s]!;
        }
        credit[s] = at;
        this.#relaxation.at(node);
      }
      if (best - before < 1e-3) break;
    }
  }

  #remember({ use, bandUse, flips }: Node, further: boolean): void {
    const { look, network } = this.#relaxation;
    for (let block = 0; block < flips.length; block++) {
      if (further && this.#plans[block] !== look.plan[block]) flips[block]!++;
      this.#plans[block] = look.plan[block]!;
    }
    for (let s = 0; s < use.length; s++) {
      const band = look.band[s]!;
      use[s] = use[s]! * 0.9 + (band >= 0 ? 0.1 : 0);
      const place = this.#places[s]!;
      for (let b = 0; b < network.sellers[s]!.bands.length; b++)
        bandUse[place + b] = bandUse[place + b]! * 0.9 + (band === b ? 0.1 : 0);
    }
  }

  /** The next direction, and its length squared. */
  #direct({ allowed, dual }: Node): number {
    const { look, network } = this.#relaxation;
    let length = 0;
    const links = this.#ofLinks;
    for (let link = 0; link < links.length; link++) {
      const step = look.used[link]! - look.wanted[link]! + MOMENTUM * links[link]!;
      links[link] = step;
      length += step * step;
    }
    const sellers = this.#ofSellers;
    for (let s = 0; s < sellers.length; s++) {
      const band = settledBand(allowed[s]!);
      if (band < 0) {
        sellers[s] = 0;
        continue;
      }
      const { lower, below, held } = network.sellers[s]!.bands[band]!;
      const goods = look.goods[s]!;
      const credit = dual.credit[s]!;
      let missing = 0;
      if (goods < lower || credit > 0) missing = lower - goods;
      else if (held && (goods > below || credit < 0)) missing = below - goods;
      const step = missing / GOODS_UNIT + MOMENTUM * sellers[s]!;
      sellers[s] = step;
      length += step * step;
    }
    return length;
  }

  #step({ allowed, dual: { toll, credit } }: Node, size: number): void {
    const links = this.#ofLinks;
    const { sellers, sellerOf, most } = this.#relaxation.network;
    for (let link = 0; link < links.length; link++) {
      if (links[link] === 0) continue;
      // Further down nobody serves at all.
      const floor = -sellers[sellerOf[link]!]!.leastRate * most[link]!;
      toll[link] = Math.max(floor, toll[link]! + size * links[link]!);
    }
    for (let s = 0; s < sellers.length; s++) {
      const step = this.#ofSellers[s]!;
      const band = settledBand(allowed[s]!);
      if (band < 0 || step === 0) continue;
      const { lower, rate, held } = sellers[s]!.bands[band]!;
      let next = Math.min(rate, credit[s]! + (size * step) / GOODS_UNIT);
      if (next > 0 && lower === 0) next = 0;
      if (next < 0 && !held) next = 0;
      credit[s] = next;
    }
  }
}
