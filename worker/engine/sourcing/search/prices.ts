import type { Multipliers } from './multipliers.ts';
import type { Link, Network, NetworkRequirement, Step } from './network.ts';

/** What is allowed in a part of the search: by parcel, 1 where it may be sent; by supplier, 1 where one must be. */
export interface Ground {
  open: Uint8Array;
  must: Uint8Array;
}

/** A step of a link in a parcel of its supplier; −1: in none, as of the own shelf, or out of a shared choice. */
export interface Part {
  link: number;
  step: number;
  parcel: number;
}

/** What each step of a link costs at the multipliers, in its cheapest parcel. */
export interface LinkPrices {
  costs: Float64Array;
  parcels: Int32Array;
}

/**
 * Prices of a link's steps: least over open parcels k of (rate − credit) · value + weight · grams + link multiplier; and what
 * scarce stock costs. Undefined where no parcel is open.
 */
export function linkPrices(
  network: Network,
  multipliers: Multipliers,
  { open }: Ground,
  at: number,
): LinkPrices | undefined {
  const link = network.links[at]!;
  const { steps } = link;
  const costs = new Float64Array(steps.length);
  const parcels = new Int32Array(steps.length).fill(-1);
  if (link.shared !== undefined) return { costs: pieceCosts(network, multipliers, link, at, costs), parcels };
  const own = network.parcels.of[link.supplier] ?? [];
  if (own.length > 0) {
    costs.fill(Infinity);
    own.forEach((parcel, place) => {
      if (open[parcel] === 0) return;
      const { rate } = network.parcels.list[parcel]!;
      const slope = Math.max(0, rate - multipliers.credit[parcel]!);
      const [heavy, fixed] = [multipliers.weight[parcel]!, multipliers.link[at]![place]!];
      for (let step = 0; step < steps.length; step++) {
        const cost = slope * steps[step]!.value + heavy * steps[step]!.grams + fixed;
        if (cost < costs[step]!) {
          costs[step] = cost;
          parcels[step] = parcel;
        }
      }
    });
    if (costs[0] === Infinity) return undefined;
  }
  if (network.stock.length > 0)
    for (let step = 0; step < steps.length; step++)
      costs[step]! += stockCost(network, multipliers, steps[step]!);
  return { costs, parcels };
}

function pieceCosts(
  { shared }: Network,
  { capacity, link: fixed }: Multipliers,
  { requirement, shared: of = 0, steps }: Link,
  at: number,
  costs: Float64Array,
): Float64Array {
  const each = shared[of]!.capacities.reduce(
    (sum, { requirements }, row) => (requirements.includes(requirement) ? sum + capacity[of]![row]! : sum),
    0,
  );
  return costs.map((_, step) => fixed[at]![0]! + each * steps[step]!.gives);
}

function stockCost({ stock }: Network, multipliers: Multipliers, { lines }: Step): number {
  let cost = 0;
  for (let row = 0; row < stock.length; row++) {
    if (multipliers.stock[row] === 0) continue;
    for (const { choice, units } of lines)
      if (stock[row]!.choices.has(choice)) cost += multipliers.stock[row]! * units;
  }
  return cost;
}

/** Each step of a link in each open parcel, with what it costs there. */
export function pricesInParcels(
  network: Network,
  multipliers: Multipliers,
  ground: Ground,
  at: number,
): { step: number; parcel: number; cost: number }[] {
  const { supplier, shared, steps } = network.links[at]!;
  const own = shared === undefined ? (network.parcels.of[supplier] ?? []) : [];
  const places = own.length > 0 ? own.filter((k) => ground.open[k] === 1) : [-1];
  return places.flatMap((parcel) => {
    const alone = { ...ground, open: ground.open.map((_, k) => (k === parcel ? 1 : 0)) };
    const prices = linkPrices(network, multipliers, alone, at);
    return prices ? Array.from(steps, (_, step) => ({ step, parcel, cost: prices.costs[step]! })) : [];
  });
}

/** The plans of a requirement: those of whichever of its scopes has the cheapest. */
export function tableOf(
  network: Network,
  requirement: NetworkRequirement,
  multipliers: Multipliers,
  ground: Ground,
): PlanTable {
  const tables = requirement.scopes.map((links) => {
    const prices = links.map((link) => linkPrices(network, multipliers, ground, link));
    return new PlanTable(network, { ...requirement, links }, prices);
  });
  return tables.reduce((best, table) => (table.least < best.least ? table : best));
}

/** Needs of more than so much are counted in coarser steps, what is given rounded up: a bound stays one. */
const MOST_COUNTED = 1024;

/**
 * A requirement's plans at given prices of steps, by dynamic programming over what has been given so far: `from[i][g]` is
 * the least that links i, i + 1, … cost where g is given already; by each stage at least its need must be.
 *
 *   from[i][g] = min(from[i + 1][g], min_{steps of i} price + from[i + 1][min(need, g + gives)])
 *
 */
export class PlanTable {
  readonly #network: Network;
  readonly #requirement: NetworkRequirement;
  readonly #prices: readonly (LinkPrices | undefined)[];
  readonly #coarse: number;
  readonly #needs: readonly number[];
  readonly #from: Float64Array[];

  constructor(
    network: Network,
    requirement: NetworkRequirement,
    prices: readonly (LinkPrices | undefined)[],
  ) {
    const { links, needs } = requirement;
    this.#network = network;
    this.#requirement = requirement;
    this.#prices = prices;
    this.#coarse = Math.max(1, Math.ceil((needs.at(-1) ?? 0) / MOST_COUNTED));
    this.#needs = needs.map((need) => this.counted(need));
    const need = this.#needs.at(-1) ?? 0;
    this.#from = new Array<Float64Array>(links.length + 1);
    let after = new Float64Array(need + 1).fill(Infinity);
    after[need] = 0;
    this.#from[links.length] = after;
    for (let at = links.length - 1; at >= 0; at--) {
      const now = this.#atStageEnd(after, at).slice();
      const own = prices[at];
      const { steps } = network.links[links[at]!]!;
      const rest = this.#atStageEnd(after, at);
      if (own)
        for (let step = 0; step < steps.length; step++) {
          const cost = own.costs[step]!;
          const gives = this.counted(steps[step]!.gives);
          for (let given = 0; given <= need; given++) {
            const sum = rest[Math.min(need, given + gives)]! + cost;
            if (sum < now[given]!) now[given] = sum;
          }
        }
      this.#from[at] = now;
      after = now;
    }
  }

  /** An amount as the table counts it. */
  counted(amount: number): number {
    return Math.ceil(amount / this.#coarse);
  }

  /** The last stage that ends with link `at`, or before the first link (−1): what follows must find its need given. −1: none. */
  #endOf(at: number): number {
    const { links, needs } = this.#requirement;
    const stageOf = (place: number) => this.#network.links[links[place]!]!.stage;
    const stage = at < 0 ? 0 : stageOf(at);
    const next = links[at + 1] === undefined ? needs.length : stageOf(at + 1);
    return next > stage ? next - 1 : -1;
  }

  #atStageEnd(after: Float64Array, at: number): Float64Array {
    const stage = this.#endOf(at);
    if (stage < 0 || stage >= this.#needs.length - 1) return after;
    const least = this.#needs[stage]!;
    if (least === 0) return after;
    const limited = after.slice();
    limited.fill(Infinity, 0, least);
    return limited;
  }

  /** Whether what is given is counted rounded up. */
  get isCoarse(): boolean {
    return this.#coarse > 1;
  }

  /** The least that links from `at` on cost where so much is given by those before, and their stages have what they ask. */
  rest(at: number, given: number): number {
    const own = this.#from[at]!;
    const stage = this.#endOf(at - 1);
    if (stage >= 0 && given < this.#needs[stage]!) return Infinity;
    return own[Math.min(given, own.length - 1)]!;
  }

  /** What the cheapest plan costs; Infinity where there is none. */
  get least(): number {
    return this.rest(0, 0);
  }

  /** The cheapest plan. */
  plan(): Part[] {
    const { links } = this.#requirement;
    const need = this.#needs.at(-1) ?? 0;
    const parts: Part[] = [];
    let given = 0;
    links.forEach((link, at) => {
      const rest = this.#atStageEnd(this.#from[at + 1]!, at);
      const least = this.#from[at]![given]!;
      if (rest[given]! <= least) return;
      const own = this.#prices[at]!;
      const { steps } = this.#network.links[link]!;
      for (let step = 0; step < steps.length; step++) {
        const next = Math.min(need, given + this.counted(steps[step]!.gives));
        if (rest[next]! + own.costs[step]! > least) continue;
        parts.push({ link, step, parcel: own.parcels[step]! });
        given = next;
        return;
      }
    });
    return parts;
  }
}
