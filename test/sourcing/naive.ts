import type { Job } from '../../worker/engine/model/job.ts';
import { ladderOf } from './ladders.ts';
import { needsOf } from './needs.ts';
import { postageOf } from './postage.ts';
import { RULES_ON } from './rules.ts';

/**
 * The least delivered cost where each offer is taken at one of its first few amounts or not at all, with no short cut
 * whatever. No mix is cheaper than the cheapest, so the brute force must never come out above this. Undefined where
 * there are too many mixes to try.
 */
export function naiveCost(job: Job, amounts: number, mostMixes: number): number | undefined {
  const postages = job.suppliers.map((supplier) => postageOf(supplier, RULES_ON));
  const columns = needsOf(job).flatMap((need, row) => {
    const offers = job.offers.filter(
      (offer) => 'part' in offer && (need.kind === 'wire' ? need.parts : [need.part]).includes(offer.part),
    );
    const quantity = need.kind === 'wire' ? need.totalMm : need.quantity;
    return offers.map((offer) => {
      const ladder = ladderOf(offer, quantity, RULES_ON);
      const rungs = Array.from({ length: amounts }, () => ladder.next().value);
      const seller = job.suppliers.findIndex((supplier) => supplier.code === offer.supplier);
      return { row, quantity, seller, rungs, oneOffer: need.kind === 'wire' };
    });
  });
  if ((amounts + 1) ** columns.length > mostMixes) return undefined;
  const quantities = new Map(columns.map((column) => [column.row, column.quantity]));

  let best = Infinity;
  const chosen: number[] = columns.map(() => 0);
  const price = () => {
    const given = new Map<number, number>();
    const goods = new Map<number, number>();
    for (const [index, column] of columns.entries()) {
      const rung = column.rungs[(chosen[index] ?? 0) - 1];
      if (!rung) continue;
      if (column.oneOffer && given.has(column.row)) return;
      given.set(column.row, (given.get(column.row) ?? 0) + rung.gives);
      goods.set(column.seller, (goods.get(column.seller) ?? 0) + rung.costs);
    }
    for (const [row, quantity] of quantities) if ((given.get(row) ?? 0) < quantity) return;
    let cost = 0;
    for (const [seller, value] of goods) cost += value + (postages[seller]?.(value) ?? 0);
    best = Math.min(best, cost);
  };
  const choose = (index: number): void => {
    if (index === columns.length) return price();
    for (let amount = 0; amount <= amounts; amount += 1) {
      chosen[index] = amount;
      choose(index + 1);
    }
  };
  choose(0);
  return best;
}
