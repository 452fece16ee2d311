import type { Job } from '../../../worker/engine/model/job.ts';
import { compareOutcomes, type Outcome } from './cheapest.ts';
import { groupsOf } from './groups.ts';
import { judgeOf, onSale, type Bought } from './judge.ts';
import { marketOf } from './market.ts';
import { RULES_ON } from './rules.ts';
import { scenariosOf } from './scenarios.ts';

/**
 * The same optimum with no short cut whatever: each offer in each order at each of the amounts that the brute force tries
 * for any choice of families and at some more above them, or not at all, every one of these purchases judged as a whole.
 * Undefined where there are more than so many, or none is allowed.
 */
export function naive(job: Job, above: number, mostPurchases: number): Outcome | undefined {
  const market = marketOf(job, RULES_ON);
  const tried = new Map<string, { one: Omit<Bought, 'count'>; many: number }>();
  for (const met of scenariosOf(job, RULES_ON))
    for (const { columns } of groupsOf(job, { met, market, rules: RULES_ON }, 'all'))
      for (const { offer, wave, amounts } of columns) {
        const key = `${offer.code} ${wave}`;
        const many = Math.max(tried.get(key)?.many ?? 0, amounts.length + above);
        tried.set(key, { one: { offer, wave }, many });
      }
  const columns = [...tried.values()].map(({ one, many }) => ({ one, counts: onSale(one.offer, many) }));
  if (columns.reduce((many, { counts }) => many * (counts.length + 1), 1) > mostPurchases) return undefined;

  const judge = judgeOf(job);
  let best: Outcome | undefined;
  const choose = (index: number, bought: readonly Bought[]): void => {
    const column = columns[index];
    if (!column) {
      const outcome = judge(bought);
      if (outcome && (!best || compareOutcomes(outcome, best) < 0)) best = outcome;
      return;
    }
    choose(index + 1, bought);
    for (const count of column.counts) choose(index + 1, [...bought, { ...column.one, count }]);
  };
  choose(0, []);
  return best;
}
