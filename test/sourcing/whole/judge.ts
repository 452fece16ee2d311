import type { Job } from '../../../worker/engine/model/job.ts';
import { costOf, weightOfOne } from './amounts.ts';
import { sellsNeeded, type Outcome } from './cheapest.ts';
import { isMet } from './isMet.ts';
import { choices } from './groups.ts';
import { counts, isOnSale, serves, type Offer } from './onSale.ts';
import { sumOf } from './ratio.ts';
import { RULES_ON } from './rules.ts';
import { scenariosOf } from './scenarios.ts';
import { sellerOf } from './sellers.ts';

/** So many packs, fixed lengths or kits of an offer, or mm by the metre, in one of the orders. */
export interface Bought {
  offer: Offer;
  wave: number;
  count: number;
}

/**
 * Judges a purchase as a whole: its outcome, with the least of requirements unmet. Undefined where it is not allowed: it buys what
 * is not on sale, or what serves no need that it meets; a supplier does not sell for so little; or there are too many.
 */
export function judgeOf(job: Job): (bought: readonly Bought[]) => Outcome | undefined {
  const sellers = new Map(job.suppliers.map((one) => [one.code, sellerOf(job, one, RULES_ON)]));
  const scenarios = scenariosOf(job, RULES_ON);
  const insisted = [...new Set(job.request.insistOn ?? [])].filter((supplier) =>
    sellsNeeded(job, supplier, scenarios.flat(), RULES_ON),
  );

  /** The least of requirements unmet, every offer serving one that is met. */
  const unmetBy = (bought: readonly Bought[]): number | undefined => {
    const found = scenarios.flatMap((requirements) => {
      for (let unmet = 0; unmet <= requirements.length; unmet += 1)
        for (const met of choices(requirements, requirements.length - unmet))
          if (
            bought.every(({ offer }) => met.some((one) => serves(offer, one, RULES_ON))) &&
            isMet(met, bought)
          )
            return [unmet];
      return [];
    });
    return found.length > 0 ? Math.min(...found) : undefined;
  };

  return (bought) => {
    const unmet = unmetBy(bought);
    const used = new Set(bought.map(({ offer }) => offer.supplier));
    const allowed =
      unmet !== undefined &&
      bought.every(({ offer, wave }) => isOnSale(job, offer, wave, RULES_ON)) &&
      withinStock(bought) &&
      used.size <= (job.request.atMostSuppliers ?? Infinity);
    const costs = [...new Set(bought.map(parcelOf))].map((parcel) => {
      const here = bought.filter((one) => parcelOf(one) === parcel);
      const goods = here.reduce((sum, { offer, count }) => sum + costOf(offer, count, RULES_ON), 0);
      const weight = here.reduce((sum, { offer, count }) => sum + count * weightOfOne(job, offer), 0);
      return sellers.get(here[0]?.offer.supplier ?? '')?.delivered(goods, weight);
    });
    const paid = costs.filter((cost) => cost !== undefined);
    if (!allowed || paid.length < costs.length) return undefined;
    const missing = insisted.filter((supplier) => !used.has(supplier)).length;
    return { missing, unmet, cost: sumOf(paid) };
  };
}

const parcelOf = ({ offer, wave }: Bought) => `${offer.supplier} ${wave}`;

function withinStock(bought: readonly Bought[]): boolean {
  return bought.every(({ offer }) => {
    const stock = offer.form === 'metre' ? offer.stockMm : offer.stockPacks;
    const all = bought.filter((one) => one.offer === offer).reduce((sum, { count }) => sum + count, 0);
    return stock === undefined || all <= stock;
  });
}

/** The first so many amounts on sale, packs or mm. */
export function onSale(offer: Offer, many: number): number[] {
  const list: number[] = [];
  for (const count of counts(offer, RULES_ON)) {
    if (list.length >= many) break;
    list.push(count);
  }
  return list;
}
