import type { Network } from './network.ts';
import type { Node } from './node.ts';
import type { Alive, PlanStore } from './planStore.ts';
import { bandCredit, bandValue, gainOf } from './sellerSide.ts';
import { settledBand, UNUSED, type Allowed } from './allowed.ts';

/** Prices that lead blocks and sellers to agree: what a block pays for using a link beside its goods, and what a minor unit of goods counts towards the limits of a seller whose band is settled. */
export interface Dual {
  toll: Float64Array;
  credit: Float64Array;
}

/** What a look at a node finds; the arrays are written over by the next. */
export interface Look {
  bound: number;
  /** By block: its cheapest plan, −1 where it has none; and what that comes to. */
  plan: Int32Array;
  price: Float64Array;
  /** By link: how far its block uses it, 0 to 1; wanted by its seller. */
  used: Float64Array;
  wanted: Uint8Array;
  /** By seller: its band where it is used, −1 where not; and goods of its blocks' cheapest plans. */
  band: Int32Array;
  goods: Float64Array;
  /** By seller: what it adds to the bound. */
  parcel: Float64Array;
}

type Priced = Pick<Node, 'allowed' | 'banned' | 'dual'>;

export class Relaxation {
  readonly network: Network;
  readonly store: PlanStore;
  readonly atMost: number;
  readonly look: Look;
  /** By seller: 1 where the last look had it settled to a band. */
  readonly #settled: Uint8Array;
  /** By link: what a minor unit of goods costs its block, and what using it costs beside that. */
  readonly slope: Float64Array;
  readonly fixed: Float64Array;
  readonly #credit: Float64Array;

  constructor(store: PlanStore, atMost: number) {
    const { network } = store;
    const { blocks, sellers, links } = network;
    this.network = network;
    this.store = store;
    this.atMost = atMost;
    this.#settled = new Uint8Array(sellers.length);
    this.slope = new Float64Array(links);
    this.fixed = new Float64Array(links);
    this.#credit = new Float64Array(sellers.length);
    this.look = {
      bound: -Infinity,
      plan: new Int32Array(blocks.length),
      price: new Float64Array(blocks.length),
      used: new Float64Array(links),
      wanted: new Uint8Array(links),
      band: new Int32Array(sellers.length),
      goods: new Float64Array(sellers.length),
      parcel: new Float64Array(sellers.length),
    };
  }

  /**
   * Prices of links for blocks. A toll is paid once; a toll below 0 in proportion to the goods, so that nobody is paid for
   * buying a trifle. Infinity where the seller is shut.
   */
  price({ allowed, banned, dual: { toll, credit } }: Priced): void {
    const { sellers, linksOfSeller, most } = this.network;
    const { slope, fixed } = this;
    for (let s = 0; s < sellers.length; s++) {
      const seller = sellers[s]!;
      const state = allowed[s]!;
      const band = settledBand(state);
      const links = linksOfSeller[s]!;
      if (state === UNUSED || state === 0) {
        for (let at = 0; at < links.length; at++) fixed[links[at]!] = Infinity;
        continue;
      }
      this.#settled[s] = band < 0 ? 0 : 1;
      const factor = band < 0 ? seller.leastRate : seller.bands[band]!.rate - credit[s]!;
      for (let at = 0; at < links.length; at++) {
        const link = links[at]!;
        const own = toll[link]!;
        slope[link] = own < 0 ? factor + own / most[link]! : factor;
        fixed[link] = banned[link] ? Infinity : own > 0 ? own : 0;
      }
    }
  }

  /**
   * A bound that no mix within the node goes below: blocks choose for themselves, at a toll a link; sellers choose for
   * themselves whom to serve and in which band, with goods within its limits.
   */
  at(node: Priced & Pick<Node, 'alive'>): number {
    const { alive, allowed, dual } = node;
    const { look } = this;
    look.used.fill(0);
    look.goods.fill(0);
    this.price(node);
    look.bound = this.#blocks(alive, dual.toll) + this.#sellers(allowed, dual);
    return look.bound;
  }

  #blocks({ start, ids }: Alive, toll: Float64Array): number {
    const { store, look, slope, fixed } = this;
    const { firstLink, firstValue, secondLink, secondValue } = store;
    const { sellerOf, most } = this.network;
    let sum = 0;
    for (let block = 0; block < start.length - 1; block++) {
      let best = Infinity;
      let plan = -1;
      const end = start[block + 1]!;
      for (let at = start[block]!; at < end; at++) {
        const id = ids[at]!;
        const one = firstLink[id]!;
        let cost = slope[one]! * firstValue[id]! + fixed[one]!;
        const other = secondLink[id]!;
        if (other >= 0) {
          cost += slope[other]! * secondValue[id]! + fixed[other]!;
          if (cost < best && store.hasFurther(id)) cost += this.#further(id);
        }
        if (cost < best) {
          best = cost;
          plan = id;
        }
      }
      look.plan[block] = plan;
      look.price[block] = best;
      sum += best;
      if (plan >= 0)
        for (const part of store.parts(plan)) {
          const [link] = part;
          const value = store.value(part);
          look.used[link] = toll[link]! < 0 ? value / most[link]! : 1;
          look.goods[sellerOf[link]!]! += value;
        }
    }
    return sum;
  }

  #further(plan: number): number {
    let cost = 0;
    for (const part of this.store.further(plan))
      cost += this.slope[part[0]]! * this.store.value(part) + this.fixed[part[0]]!;
    return cost;
  }

  /** Whether a seller was settled to a band at the last look. */
  isSettled(seller: number): boolean {
    return this.#settled[seller] === 1;
  }

  /** What a plan costs its block at the last look. */
  priceOf(plan: number): number {
    const { firstLink, firstValue, secondLink, secondValue } = this.store;
    const one = firstLink[plan]!;
    const other = secondLink[plan]!;
    const cost = this.slope[one]! * firstValue[plan]! + this.fixed[one]!;
    if (other < 0) return cost;
    return cost + this.slope[other]! * secondValue[plan]! + this.fixed[other]! + this.#further(plan);
  }

  #sellers(allowed: Allowed, dual: Dual): number {
    const { sellers } = this.network;
    const { look } = this;
    let sum = 0;
    let must = 0;
    for (let s = 0; s < sellers.length; s++) {
      this.#seller(s, allowed[s]!, dual);
      if ((allowed[s]! & UNUSED) === 0) {
        sum += look.parcel[s]!;
        if (!sellers[s]!.own) must++;
      }
    }
    const free: number[] = [];
    for (let s = 0; s < sellers.length; s++)
      if (allowed[s]! & UNUSED && look.parcel[s]! < 0) {
        if (sellers[s]!.own || this.atMost === Infinity) sum += look.parcel[s]!;
        else free.push(s);
      }
    if (this.atMost === Infinity) return sum;
    if (must > this.atMost) return Infinity;
    free.sort((a, b) => look.parcel[a]! - look.parcel[b]!);
    free.forEach((s, place) => {
      if (place < this.atMost - must) sum += look.parcel[s]!;
      else this.#leave(s);
    });
    return sum;
  }

  #leave(s: number): void {
    const { look } = this;
    look.band[s] = -1;
    look.parcel[s] = 0;
    for (const link of this.network.linksOfSeller[s]!) look.wanted[link] = 0;
  }

  #seller(s: number, allowed: number, { toll, credit }: Dual): void {
    const { network, look } = this;
    const seller = network.sellers[s]!;
    const links = network.linksOfSeller[s]!;
    if (allowed === UNUSED || allowed === 0) {
      this.#leave(s);
      return;
    }
    const settled = settledBand(allowed);
    if (settled >= 0) {
      const band = seller.bands[settled]!;
      const own = credit[s]!;
      look.band[s] = settled;
      look.parcel[s] = band.charge + (own >= 0 ? own * band.lower : own * band.below);
      for (let at = 0; at < links.length; at++) look.wanted[links[at]!] = look.used[links[at]!]!;
      return;
    }
    let best = allowed & UNUSED ? 0 : Infinity;
    let chosen = -1;
    for (let b = 0; b < seller.bands.length; b++) {
      if (!(allowed & (1 << b))) continue;
      const own = bandCredit(network, s, b, toll);
      const value = bandValue(network, s, b, own, toll);
      if (value < best) {
        best = value;
        chosen = b;
        this.#credit[s] = own;
      }
    }
    if (chosen < 0) {
      this.#leave(s);
      return;
    }
    look.band[s] = chosen;
    look.parcel[s] = best;
    const more = seller.bands[chosen]!.rate - seller.leastRate;
    const own = this.#credit[s]!;
    for (let at = 0; at < links.length; at++) {
      const link = links[at]!;
      look.wanted[link] = toll[link]! + gainOf(network, link, own, more) > 0 ? 1 : 0;
    }
  }
}
