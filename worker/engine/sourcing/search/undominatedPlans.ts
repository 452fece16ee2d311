import type { Network } from './network.ts';
import type { Part } from './prices.ts';
import { SUM_OF_PRICES } from '../../solver/tolerances.ts';

interface Weighed {
  parts: Part[];
  cost: number;
  goods: ReadonlyMap<number, { value: number; grams: number }>;
  links: ReadonlySet<string>;
  scarce: boolean;
}

/**
 * A requirement's plans without those that another does as well as: one that uses no other parcels, costs no more (what it
 * brings less to lower limits being made up by money), and brings no more to parcels that are held below a limit.
 */
export function undominatedPlans(network: Network, plans: readonly Part[][]): Part[][] {
  const weighed = plans.map((parts) => weighedOf(network, parts)).sort((a, b) => a.cost - b.cost);
  const kept: Weighed[] = [];
  for (const plan of weighed)
    if (plan.scarce || !kept.some((other) => isAsGood(network, other, plan))) kept.push(plan);
  return kept.map(({ parts }) => parts);
}

function weighedOf({ links, parcels, stock }: Network, parts: Part[]): Weighed {
  const goods = new Map<number, { value: number; grams: number }>();
  const used = new Set<string>();
  let cost = 0;
  let scarce = false;
  for (const { link: at, step, parcel } of parts) {
    const link = links[at]!;
    const { value, grams, lines } = link.steps[step]!;
    // What is shared or scarce is not told apart by cost.
    if (
      link.shared !== undefined ||
      stock.some(({ choices }) => lines.some(({ choice }) => choices.has(choice)))
    )
      scarce = true;
    used.add(`${parcel}`);
    if (parcel < 0) continue;
    cost += parcels.list[parcel]!.rate * value;
    const sum = goods.get(parcel) ?? { value: 0, grams: 0 };
    goods.set(parcel, { value: sum.value + value, grams: sum.grams + grams });
  }
  return { parts, cost, goods, links: used, scarce };
}

function isAsGood({ parcels }: Network, one: Weighed, than: Weighed): boolean {
  if (one.scarce || ![...one.links].every((key) => than.links.has(key))) return false;
  let cost = one.cost;
  for (const [k, { value }] of than.goods) {
    const { lower, rate } = parcels.list[k]!;
    const less = value - (one.goods.get(k)?.value ?? 0);
    if (less > 0 && lower > 0) cost += rate * less;
    if (cost > than.cost + SUM_OF_PRICES) return false;
  }
  for (const [k, { value, grams }] of one.goods) {
    const { heldByValue, heldByWeight } = parcels.list[k]!;
    const other = than.goods.get(k) ?? { value: 0, grams: 0 };
    if (heldByValue && value > other.value + SUM_OF_PRICES) return false;
    if (heldByWeight && grams > other.grams + SUM_OF_PRICES) return false;
  }
  return cost <= than.cost + SUM_OF_PRICES;
}
