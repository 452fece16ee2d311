import type { Job } from '../../../worker/engine/model/job.ts';
import { checked } from '../exactMoney.ts';
import { amountsOf, isUsable } from './amounts.ts';
import { sellerOf } from './charges.ts';
import type { Outcome } from './cheapest.ts';
import { judgeOf, onSale, type Bought } from './judge.ts';
import { needsOf } from './needs.ts';
import { RULES_ON } from './rules.ts';

/**
 * The same optimum with no short cut whatever: each offer at each of the amounts that the brute force tries and at some
 * more above them, or not at all, every one of these purchases judged as a whole. Undefined where there are too many.
 */
export function naive(job: Job, above: number, mostPurchases: number): Outcome | undefined {
  const needs = needsOf(job, RULES_ON);
  const columns = job.offers.flatMap((offer) => {
    const supplier = job.suppliers.find(({ code }) => code === offer.supplier);
    if (!supplier || !isUsable(job, offer, RULES_ON)) return [];
    const seller = sellerOf(supplier, RULES_ON);
    const tried = amountsOf(job, offer, needs, seller, RULES_ON, 'all').length + above;
    return [{ offer, counts: onSale(offer, tried) }];
  });
  if (columns.reduce((many, { counts }) => many * (counts.length + 1), 1) > mostPurchases) return undefined;

  const judge = judgeOf(job);
  let best = { unsourced: Infinity, cost: Infinity };
  const choose = (index: number, bought: readonly Bought[]): void => {
    const column = columns[index];
    if (!column) {
      const { unsourced, cost } = judge(bought);
      const better = unsourced < best.unsourced || (unsourced === best.unsourced && cost < best.cost);
      if (cost < Infinity && better) best = { unsourced, cost };
      return;
    }
    choose(index + 1, bought);
    for (const count of column.counts) choose(index + 1, [...bought, { offer: column.offer, count }]);
  };
  choose(0, []);
  return { unsourced: best.unsourced, cost: BigInt(checked(best.cost)) };
}
