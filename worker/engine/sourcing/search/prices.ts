import type { Multipliers } from './multipliers.ts';
import type { Link, Network, NetworkRequirement, Step } from './network.ts';
import { PlanList } from './planList.ts';

/**
 * What is allowed in a part of the search: by parcel, 1 where it may be sent; by supplier, 1 where one must be. By shared
 * choice, between how many units of it are bought; not given: any number.
 */
export interface Ground {
  open: Uint8Array;
  must: Uint8Array;
  shared?: SharedLimits | undefined;
}

export interface SharedLimits {
  least: Float64Array;
  most: Float64Array;
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
  { open, shared }: Pick<Ground, 'open' | 'shared'>,
  at: number,
): LinkPrices | undefined {
  const link = network.links[at]!;
  const { steps } = link;
  const costs = new Float64Array(steps.length);
  const parcels = new Int32Array(steps.length).fill(-1);
  if (link.shared !== undefined) {
    const most = piecesFrom(network, link, shared?.most[link.shared] ?? Infinity);
    return { costs: pieceCosts(network, multipliers, at, most), parcels };
  }
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

/** How many pieces so many units of a shared choice can give to a link's requirement. */
export function piecesFrom(
  { shared }: Network,
  { requirement, shared: of = 0 }: Link,
  units: number,
): number {
  return shared[of]!.capacities.reduce(
    (most, { requirements, each }) =>
      requirements.includes(requirement) ? Math.min(most, each * units) : most,
    Infinity,
  );
}

function pieceCosts(
  { shared, links }: Network,
  { capacity, link: fixed }: Multipliers,
  at: number,
  most: number,
): Float64Array {
  const { requirement, shared: of = 0, steps } = links[at]!;
  const each = shared[of]!.capacities.reduce(
    (sum, { requirements }, row) => (requirements.includes(requirement) ? sum + capacity[of]![row]! : sum),
    0,
  );
  return Float64Array.from(steps, ({ gives }) => (gives > most ? Infinity : fixed[at]![0]! + each * gives));
}

/** What the scarce stock costs that a step takes. */
export function stockCost({ stock }: Network, multipliers: Multipliers, { lines }: Step): number {
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
): PlanTable | PlanList {
  const { links: all, listed } = requirement;
  if (listed)
    return new PlanList(
      listed,
      new Map(all.map((link) => [link, linkPrices(network, multipliers, ground, link)])),
    );
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
      if (own && network.links[links[at]!]!.shared !== undefined) this.#addPieces(rest, own.costs, now);
      else if (own)
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

  /**
   * The same of pieces out of a shared choice, of which p cost a + b · p: the least of rest[q] + b · q over all q that these
   * reach, kept in a queue while g goes down.
   */
  #addPieces(rest: Float64Array, costs: Float64Array, now: Float64Array): void {
    const need = rest.length - 1;
    // A ground may allow fewer of them.
    const end = costs.indexOf(Infinity);
    const allowed = end < 0 ? costs.length : end;
    if (allowed === 0) return;
    const most = this.counted(allowed);
    const each = allowed > 1 ? (costs[1]! - costs[0]!) * this.#coarse : 0;
    // Of so many counted pieces the fewest.
    const costOf = (many: number) => costs[(many - 1) * this.#coarse]!;
    const queue: number[] = [];
    let first = 0;
    const worth = (q: number) => rest[q]! + each * q;
    for (let given = need - 1; given >= 0; given--) {
      const q = given + 1;
      while (queue.length > first && worth(queue.at(-1)!) >= worth(q)) queue.pop();
      queue.push(q);
      while (queue[first]! > given + most) first++;
      const best = queue[first]!;
      const sum = rest[best]! + costOf(best - given);
      if (sum < now[given]!) now[given] = sum;
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
