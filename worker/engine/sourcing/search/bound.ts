import type { Multipliers } from './multipliers.ts';
import type { Network } from './network.ts';
import type { PlanList } from './planList.ts';
import { tableOf, type Ground, type PlanTable, type SharedLimits } from './prices.ts';

/** What a bound was made of: of use for leaving out what raises it over a limit, and for new columns. */
export interface Bound {
  /** No mix within the ground costs less, minor units. */
  value: number;
  /** By requirement: its plans at these prices. */
  tables: readonly (PlanTable | PlanList)[];
  /** By parcel: what it adds where it is sent; Infinity where it is shut. */
  parcel: Float64Array;
  /** By supplier: the least that it adds; 0 where it is not used. */
  supplier: Float64Array;
}

/**
 * The Lagrangian bound at any multipliers: requirements and suppliers choose for themselves.
 *
 *   Σ_r min_p price_r(p) + Σ_s min(0, min_k parcel_k) − Σ stock · units
 *
 * A facility location problem with the rows "a requirement uses a parcel only where it is sent" left out, as in Erlenkotter,
 * A dual-based procedure for uncapacitated facility location, Operations Research 26 (1978); here by supplier and delivery
 * band, with limits of bands, scarce stock and shared pieces left out as well. `atMostSuppliers` and insisted suppliers are
 * kept whole.
 */
export function boundAt(network: Network, multipliers: Multipliers, ground: Ground): Bound {
  const tables = network.requirements.map((requirement) =>
    tableOf(network, requirement, multipliers, ground),
  );
  const parcel = parcelValues(network, multipliers, ground);
  const { supplier, sum } = suppliersAt(network, multipliers, ground, parcel);
  let value = requirementsAt(network, multipliers, tables) + sum;
  network.stock.forEach(({ mostUnits }, row) => (value -= multipliers.stock[row]! * mostUnits));
  return { value, tables, parcel, supplier };
}

/** The requirements' share: each at its least; of each group of options the cheapest one. */
function requirementsAt(
  { requirements, groups }: Network,
  { asked }: Multipliers,
  tables: readonly (PlanTable | PlanList)[],
): number {
  let sum = 0;
  const ofOption = new Map<number, number>();
  const add = (option: number, cost: number) => ofOption.set(option, (ofOption.get(option) ?? 0) + cost);
  requirements.forEach(({ when }, at) => {
    const { least: price } = tables[at]!;
    if (when === undefined) sum += price;
    else if (when.length === 1) add(when[0]!, price);
    else {
      // It is asked for where any of several options is chosen: t ≥ w for each of them.
      const pulls = asked[at]!;
      let all = 0;
      when.forEach((option, place) => {
        add(option, pulls[place]!);
        all += pulls[place]!;
      });
      sum += Math.min(0, price - all);
    }
  });
  for (const group of groups) sum += Math.min(...group.map((option) => ofOption.get(option) ?? 0));
  return sum;
}

/**
 * charge + credit · limit − weight · limit − Σ link multipliers + Σ_c min(0, what the best amount of a shared choice costs,
 * less what its pieces are worth).
 */
function parcelValues(network: Network, multipliers: Multipliers, ground: Ground): Float64Array {
  const { open } = ground;
  const { parcels, links, shared } = network;
  const values = Float64Array.from(parcels.list, ({ charge, lower, below, gramsBelow }, k) => {
    if (open[k] === 0) return Infinity;
    const credit = multipliers.credit[k]!;
    const heavy = multipliers.weight[k]!;
    return (
      charge +
      (credit > 0 ? credit * lower : credit < 0 ? credit * below : 0) -
      (heavy > 0 ? heavy * gramsBelow : 0)
    );
  });
  links.forEach(({ supplier, shared: of }, at) => {
    if (of !== undefined) return;
    (parcels.of[supplier] ?? []).forEach((k, place) => (values[k]! -= multipliers.link[at]![place]!));
  });
  shared.forEach(({ supplier }, at) => {
    for (const k of parcels.of[supplier] ?? [])
      if (values[k] !== Infinity) values[k]! += sharedCost(network, multipliers, ground, at, k);
  });
  return values;
}

/** What a shared choice adds to a parcel, off the own shelf to none: its best amount, or nothing where that costs less and is allowed. */
export function sharedCost(
  network: Network,
  multipliers: Multipliers,
  { shared }: Pick<Ground, 'shared'>,
  at: number,
  parcel: number | undefined,
): number {
  const { cost } = bestAmount(network, multipliers, at, parcel, shared);
  return (shared?.least[at] ?? 0) > 0 ? cost : Math.min(0, cost);
}

/**
 * The amount of a shared choice, of those allowed, that costs least in a parcel, what its pieces are worth taken off:
 *
 *   min_a (rate − credit) · value_a + weight · grams_a − each · units_a − once
 */
export function bestAmount(
  network: Network,
  multipliers: Multipliers,
  at: number,
  parcel: number | undefined,
  limits?: SharedLimits,
): { place: number; cost: number } {
  const { amounts } = network.shared[at]!;
  const slope =
    parcel === undefined ? 0 : Math.max(0, network.parcels.list[parcel]!.rate - multipliers.credit[parcel]!);
  const heavy = parcel === undefined ? 0 : multipliers.weight[parcel]!;
  const { each, once } = worthOf(network, multipliers, at);
  let best = { place: -1, cost: Infinity };
  const [least, most] = [limits?.least[at] ?? 0, limits?.most[at] ?? Infinity];
  amounts.forEach(({ units, value, grams }, place) => {
    if (units < least || units > most) return;
    const cost = slope * value + heavy * grams - each * units - once;
    if (cost < best.cost) best = { place, cost };
  });
  return best;
}

/** What a unit of a shared choice is worth to requirements, and what any of it is worth beside that. */
export function worthOf(
  { shared, links, stock }: Network,
  multipliers: Multipliers,
  at: number,
): { each: number; once: number } {
  const { choice, capacities } = shared[at]!;
  let each = capacities.reduce(
    (sum, capacity, row) => sum + capacity.each * multipliers.capacity[at]![row]!,
    0,
  );
  stock.forEach(({ choices }, row) => {
    if (choices.has(choice)) each -= multipliers.stock[row]!;
  });
  const once = links.reduce(
    (sum, link, place) => (link.shared === at ? sum + multipliers.link[place]![0]! : sum),
    0,
  );
  return { each, once };
}

/**
 * The suppliers' share of the bound, Σ_s min(0, min_k parcel_k): each unused or in its cheapest parcel. Those that must be
 * used are; of the others, by code, the cheapest, no more than are allowed.
 */
export function suppliersAt(
  network: Network,
  multipliers: Multipliers,
  ground: Ground,
  parcel: Float64Array,
): { supplier: Float64Array; sum: number } {
  const { parcels, codes, shared, atMostSuppliers, insistOn } = network;
  const { must } = ground;
  const supplier = new Float64Array(codes.length);
  const byCode = new Map<string, { value: number; forced: number }>();
  let sum = 0;
  codes.forEach((code, s) => {
    const own = parcels.of[s] ?? [];
    if (own.length === 0) {
      shared.forEach((one, at) => {
        if (one.supplier === s) sum += sharedCost(network, multipliers, ground, at, undefined);
      });
      return;
    }
    const best = own.reduce((least, k) => Math.min(least, parcel[k]!), Infinity);
    supplier[s] = must[s] === 1 ? best : Math.min(0, best);
    const known = byCode.get(code) ?? { value: 0, forced: Infinity };
    byCode.set(code, {
      value: known.value + supplier[s],
      // By how much more it costs to use it at all.
      forced: Math.min(known.forced, best - supplier[s]),
    });
  });
  let budget = atMostSuppliers;
  const free: number[] = [];
  for (const [code, { value, forced }] of byCode) {
    const isMust = codes.some((own, s) => own === code && must[s] === 1);
    if (insistOn.includes(code) || isMust) {
      sum += value + (isMust ? 0 : forced);
      budget--;
    } else free.push(value);
  }
  if (budget < 0) return { supplier, sum: Infinity };
  free.sort((a, b) => a - b);
  for (let at = 0; at < free.length && at < budget; at++) sum += Math.min(0, free[at]!);
  return { supplier, sum };
}
