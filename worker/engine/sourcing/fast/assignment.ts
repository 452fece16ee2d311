import type { Network } from './network.ts';
import type { PlanStore } from './planStore.ts';
import type { Seller } from './sellers.ts';

/** What a parcel of so many goods costs where they may be made up to a band's lower limit by a sum of any size. */
export function parcelOf({ bands }: Seller, goods: number): number {
  let least = Infinity;
  for (let b = 0; b < bands.length; b++) {
    const { lower, below, charge, rate } = bands[b]!;
    if (goods >= below) continue;
    const cost = charge + rate * (goods > lower ? goods : lower);
    if (cost < least) least = cost;
  }
  return least;
}

/** A plan for every block, and what follows from it for the sellers. */
export class Assignment {
  readonly #network: Network;
  readonly #store: PlanStore;
  readonly plan: Int32Array;
  readonly goods: Float64Array;
  /** How many parts of plans each seller has. */
  readonly serves: Int32Array;
  readonly #parcel: Float64Array;
  cost = 0;

  constructor(store: PlanStore, plan: Int32Array) {
    const { network } = store;
    const { sellers } = network;
    this.#network = network;
    this.#store = store;
    this.plan = plan.slice();
    this.goods = new Float64Array(sellers.length);
    this.serves = new Int32Array(sellers.length);
    this.#parcel = new Float64Array(sellers.length);
    for (const chosen of plan) this.#add(chosen, 1);
    sellers.forEach((_, s) => this.#settle(s));
  }

  #add(plan: number, times: 1 | -1): void {
    const { firstLink, firstValue, secondLink, secondValue } = this.#store;
    const { sellerOf } = this.#network;
    const one = sellerOf[firstLink[plan]!]!;
    this.goods[one]! += times * firstValue[plan]!;
    this.serves[one]! += times;
    if (secondLink[plan]! < 0) return;
    const other = sellerOf[secondLink[plan]!]!;
    this.goods[other]! += times * secondValue[plan]!;
    this.serves[other]! += times;
    for (const part of this.#store.further(plan)) {
      const s = sellerOf[part[0]]!;
      this.goods[s]! += times * this.#store.value(part);
      this.serves[s]! += times;
    }
  }

  /** What the whole would cost more with another plan for a block. */
  change(block: number, plan: number): number {
    const before = this.plan[block]!;
    if (plan === before) return 0;
    this.#add(before, -1);
    this.#add(plan, 1);
    let delta = 0;
    for (const s of this.#sellersOf(before, plan)) delta += this.#now(s) - this.#parcel[s]!;
    this.#add(plan, -1);
    this.#add(before, 1);
    return delta;
  }

  take(block: number, plan: number): void {
    const before = this.plan[block]!;
    if (plan === before) return;
    this.#add(before, -1);
    this.#add(plan, 1);
    this.plan[block] = plan;
    for (const s of this.#sellersOf(before, plan)) this.#settle(s);
  }

  /** The sellers of two plans, each once. */
  #sellersOf(before: number, plan: number): readonly number[] {
    touched.length = 0;
    this.#touch(before);
    this.#touch(plan);
    return touched;
  }

  #touch(plan: number): void {
    const { firstLink, secondLink } = this.#store;
    const { sellerOf } = this.#network;
    const one = sellerOf[firstLink[plan]!]!;
    if (!touched.includes(one)) touched.push(one);
    if (secondLink[plan]! < 0) return;
    const other = sellerOf[secondLink[plan]!]!;
    if (!touched.includes(other)) touched.push(other);
    for (const [link] of this.#store.further(plan))
      if (!touched.includes(sellerOf[link]!)) touched.push(sellerOf[link]!);
  }

  #settle(s: number): void {
    const now = this.#now(s);
    this.cost += now - this.#parcel[s]!;
    this.#parcel[s] = now;
  }

  #now(s: number): number {
    return this.serves[s]! > 0 ? parcelOf(this.#network.sellers[s]!, this.goods[s]!) : 0;
  }
}

const touched: number[] = [];
