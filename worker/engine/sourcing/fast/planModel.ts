import { ModelBuilder, type Entry } from '../../solver/model.ts';
import { solveMilp } from '../../solver/milp.ts';
import type { Control } from '../../model/control.ts';
import { settledBand } from './allowed.ts';
import type { Node } from './node.ts';
import type { Part, PlanStore } from './planStore.ts';
import type { SellerBand } from './sellers.ts';

/** A plan for every block where each seller is settled to a band, orders made up to their limits; `found`: not to the end. */
export type Chosen =
  | { status: 'chosen' | 'found'; plan: Int32Array; bound: number }
  | { status: 'none' }
  | { status: 'stopped'; by: 'time' | 'numbers' };

/**
 * Solves a node whose sellers are settled and whose plans are all at hand, as far as it costs less than the limit: a plan
 * a block, and so much more of each seller's goods as its band asks for, by a sum of any size.
 */
export async function choosePlans(
  store: PlanStore,
  node: Pick<Node, 'alive' | 'allowed' | 'banned'>,
  limit: number,
  control: Control,
  mostNodes?: number,
): Promise<Chosen> {
  const { sellers, sellerOf } = store.network;
  const builder = new ModelBuilder();
  const bands = sellers.map((seller, s) => seller.bands[settledBand(node.allowed[s]!)]);
  const charges = bands.reduce((sum, band) => sum + (band?.charge ?? 0), 0);
  const goods: Entry[][] = sellers.map(() => []);
  const costs: Entry[] = [];
  const { start, ids } = node.alive;
  const columns: number[] = [];
  for (let block = 0; block < start.length - 1; block++) {
    const own: Entry[] = [];
    for (const { at, parts, cost } of worthwhile(store, node, block, bands)) {
      const column = builder.column(cost, 0, 1);
      columns[at] = column;
      own.push([column, 1]);
      if (cost !== 0) costs.push([column, cost]);
      for (const part of parts) goods[sellerOf[part[0]]!]!.push([column, store.value(part)]);
    }
    builder.row(1, 1, own);
  }
  bands.forEach((band, s) => {
    if (!band) return;
    if (band.lower > 0) {
      const more = builder.continuous(band.rate, 0, band.lower);
      builder.row(band.lower, Infinity, [...goods[s]!, [more, 1]]);
      costs.push([more, band.rate]);
    }
    if (band.held) builder.row(-Infinity, band.below, goods[s]!);
  });
  builder.row(-Infinity, limit - charges, costs);
  const answer = await solveMilp(builder.build(), control, mostNodes === undefined ? {} : { mostNodes });
  if (answer.status === 'infeasible') return { status: 'none' };
  if (answer.status === 'interrupted' && !answer.values) return { status: 'stopped', by: answer.stoppedBy };
  const { values = [] } = answer;
  const plan = new Int32Array(start.length - 1);
  for (let block = 0; block < plan.length; block++)
    for (let at = start[block]!; at < start[block + 1]!; at++)
      if ((values[columns[at] ?? -1] ?? 0) > 0.5) plan[block] = ids[at]!;
  return { status: answer.status === 'optimal' ? 'chosen' : 'found', plan, bound: answer.bound + charges };
}

interface Way {
  at: number;
  parts: readonly Part[];
  cost: number;
  /** Goods at sellers whose bands have limits. */
  goods: ReadonlyMap<number, number>;
}

const NOISE = 1e-9;

/**
 * A block's plans without those that another does as well as: one that costs no more, what it brings less to limits being
 * made up by money, and that brings no more to sellers whose goods must be held.
 */
function worthwhile(
  store: PlanStore,
  { alive: { start, ids }, banned }: Pick<Node, 'alive' | 'banned'>,
  block: number,
  bands: readonly (SellerBand | undefined)[],
): Way[] {
  const { sellerOf } = store.network;
  const ways: Way[] = [];
  for (let at = start[block]!; at < start[block + 1]!; at++) {
    const parts = store.parts(ids[at]!);
    if (parts.some(([link]) => bands[sellerOf[link]!] === undefined || banned[link] !== 0)) continue;
    const goods = new Map<number, number>();
    let cost = 0;
    for (const part of parts) {
      const s = sellerOf[part[0]]!;
      const band = bands[s]!;
      const value = store.value(part);
      cost += band.rate * value;
      if (band.lower > 0 || band.held) goods.set(s, (goods.get(s) ?? 0) + value);
    }
    ways.push({ at, parts, cost, goods });
  }
  ways.sort((a, b) => a.cost - b.cost || a.at - b.at);
  const kept: Way[] = [];
  for (const way of ways) if (!kept.some((other) => isAsGood(other, way, bands))) kept.push(way);
  return kept;
}

function isAsGood(one: Way, than: Way, bands: readonly (SellerBand | undefined)[]): boolean {
  let cost = one.cost;
  for (const [s, goods] of than.goods) {
    const band = bands[s]!;
    const less = goods - (one.goods.get(s) ?? 0);
    if (less > 0 && band.lower > 0) cost += band.rate * less;
    if (cost > than.cost + NOISE) return false;
  }
  for (const [s, goods] of one.goods)
    if (bands[s]!.held && goods > (than.goods.get(s) ?? 0) + NOISE) return false;
  return cost <= than.cost + NOISE;
}
