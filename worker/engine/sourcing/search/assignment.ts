import type { Network } from './network.ts';
import type { Parcel } from './parcels.ts';
import type { Part } from './prices.ts';

/** A plan of a requirement without a say on parcels: a step of each of some links. */
export type Parts = readonly Pick<Part, 'link' | 'step'>[];

/** What the cheapest parcel of a supplier costs for goods of so much, which may be made up to a lower limit by a sum of any size. */
export function parcelFor(
  { parcels }: Network,
  supplier: number,
  goods: number,
  grams: number,
): { parcel: Parcel | undefined; cost: number } {
  let best: { parcel: Parcel | undefined; cost: number } = { parcel: undefined, cost: Infinity };
  for (const k of parcels.of[supplier]!) {
    const parcel = parcels.list[k]!;
    const { lower, below, gramsBelow, charge, rate } = parcel;
    if (goods >= below || grams >= gramsBelow) continue;
    const cost = charge + rate * Math.max(goods, lower);
    if (cost < best.cost) best = { parcel, cost };
  }
  return best;
}

interface Load {
  goods: number;
  grams: number;
  lines: number;
}

/**
 * A plan for each requirement that is asked for, and what follows for suppliers: goods, shared choices that these need, and
 * cost. Pieces out of shared choices count by what must be bought of these in all.
 */
export class Assignment {
  readonly network: Network;
  readonly #plans: (Parts | undefined)[];
  readonly #loads: Load[];
  readonly #costs: Float64Array;
  readonly #pieces: Map<number, number>[];
  readonly #amounts: number[];
  readonly #least: number[];

  constructor(network: Network, plans: readonly (Parts | undefined)[]) {
    this.network = network;
    this.#plans = plans.map(() => undefined);
    this.#loads = network.codes.map(() => ({ goods: 0, grams: 0, lines: 0 }));
    this.#costs = new Float64Array(network.codes.length);
    this.#pieces = network.shared.map(() => new Map<number, number>());
    this.#amounts = network.shared.map(() => -1);
    this.#least = network.shared.map(() => 0);
    plans.forEach((plan, at) => this.take(at, plan));
  }

  get plans(): readonly (Parts | undefined)[] {
    return this.#plans;
  }

  get cost(): number {
    return this.#costs.reduce((sum, cost) => sum + cost, 0);
  }

  uses(supplier: number): boolean {
    return this.#loads[supplier]!.lines > 0;
  }

  /** Buys so many units of a shared choice at the least. */
  buyAtLeast(shared: number, units: number): void {
    this.#least[shared] = units;
    this.#makeUp(shared);
    const { supplier } = this.network.shared[shared]!;
    this.#costs[supplier] = this.#costOf(supplier);
  }

  /** Units of a shared choice that must be bought; Infinity where there are not so many. */
  unitsOf(shared: number): number {
    const place = this.#amounts[shared]!;
    if (place < 0) return 0;
    return this.network.shared[shared]!.amounts[place]?.units ?? Infinity;
  }

  /** Another plan for a requirement; returns by how much the whole costs more. */
  take(requirement: number, plan: Parts | undefined): number {
    const before = this.#plans[requirement];
    const touched = new Set<number>();
    if (before) this.#add(requirement, before, -1, touched);
    if (plan) this.#add(requirement, plan, 1, touched);
    this.#plans[requirement] = plan;
    let delta = 0;
    for (const supplier of touched) {
      const now = this.#costOf(supplier);
      delta += now - this.#costs[supplier]!;
      this.#costs[supplier] = now;
    }
    return delta;
  }

  /** What the whole would cost more with another plan for a requirement. */
  change(requirement: number, plan: Parts): number {
    const before = this.#plans[requirement];
    const delta = this.take(requirement, plan);
    this.take(requirement, before);
    return delta;
  }

  #costOf(supplier: number): number {
    const { goods, grams, lines } = this.#loads[supplier]!;
    if (lines === 0 || this.network.parcels.of[supplier]!.length === 0) return 0;
    return parcelFor(this.network, supplier, goods, grams).cost;
  }

  #add(requirement: number, plan: Parts, times: 1 | -1, touched: Set<number>): void {
    const { links } = this.network;
    for (const { link: at, step } of plan) {
      const link = links[at]!;
      const { gives, value, grams } = link.steps[step]!;
      touched.add(link.supplier);
      if (link.shared === undefined) this.#put(link.supplier, { value, grams }, times);
      else {
        const pieces = this.#pieces[link.shared]!;
        pieces.set(requirement, (pieces.get(requirement) ?? 0) + times * gives);
        this.#makeUp(link.shared);
      }
    }
  }

  #put(supplier: number, { value, grams }: { value: number; grams: number }, times: 1 | -1): void {
    const load = this.#loads[supplier]!;
    load.goods += times * value;
    load.grams += times * grams;
    load.lines += times;
    if (load.lines === 0) load.goods = load.grams = 0;
  }

  /** Buys as much of a shared choice as its pieces in use ask for. */
  #makeUp(shared: number): void {
    const { supplier, amounts, capacities } = this.network.shared[shared]!;
    const pieces = this.#pieces[shared]!;
    let units = this.#least[shared]!;
    for (const { requirements, each } of capacities) {
      const used = requirements.reduce((sum, at) => sum + (pieces.get(at) ?? 0), 0);
      units = Math.max(units, Math.ceil(used / each));
    }
    const found = amounts.findIndex((amount) => amount.units >= units);
    const next = units === 0 ? -1 : found < 0 ? amounts.length : found;
    const before = this.#amounts[shared]!;
    if (next === before) return;
    const lot = (place: number) => amounts[place] ?? { value: Infinity, grams: 0 };
    if (before >= 0 && before < amounts.length) this.#put(supplier, lot(before), -1);
    if (next >= 0 && next < amounts.length) this.#put(supplier, lot(next), 1);
    this.#amounts[shared] = next;
  }
}
