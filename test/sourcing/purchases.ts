import type { Job } from '../../worker/engine/model/job.ts';
import type { Purchase } from '../../worker/engine/model/result.ts';
import { fromAmount, share } from './exactMoney.ts';
import { needsOf } from './needs.ts';
import { postageOf } from './postage.ts';
import { RULES_ON } from './rules.ts';

interface Bought {
  offer: Job['offers'][number];
  gives: number;
  costs: number;
}

/** What is wrong with the purchases of a result by the rules of sourcing, in words; nothing where all is well. */
export function faultsOfPurchases(job: Job, purchases: readonly Purchase[]): string[] {
  const faults: string[] = [];
  const bought = purchases.map((purchase) => boughtBy(job, purchase, faults));
  for (const need of needsOf(job)) {
    const parts = need.kind === 'wire' ? need.parts : [need.part];
    const serving = job.offers.filter((offer) => 'part' in offer && parts.includes(offer.part));
    const met = bought.filter(({ offer }) => serving.includes(offer));
    const given = met.reduce((sum, { gives }) => sum + gives, 0);
    const wanted = need.kind === 'wire' ? need.totalMm : need.quantity;
    if (serving.length > 0 && given < wanted) faults.push(`${parts.join()}: ${given} of ${wanted}`);
    if (need.kind === 'wire' && met.length > 1) faults.push(`${parts.join()}: ${met.length} lengths`);
  }
  return faults;
}

/** The delivered cost of the purchases, priced anew from the offers and the suppliers. */
export function costOfPurchases(job: Job, purchases: readonly Purchase[]): bigint {
  const bought = purchases.map((purchase) => boughtBy(job, purchase, []));
  return job.suppliers.reduce((cost, supplier) => {
    const here = bought.filter(({ offer }) => offer.supplier === supplier.code);
    const goods = here.reduce((sum, { costs }) => sum + costs, 0);
    return cost + BigInt(goods + (here.length > 0 ? postageOf(supplier, RULES_ON)(goods) : 0));
  }, 0n);
}

function boughtBy(job: Job, purchase: Purchase, faults: string[]): Bought {
  const offer = job.offers.find(({ code }) => code === purchase.offer);
  if (offer?.form === 'pack' && purchase.bought.form === 'pack') {
    const { packs } = purchase.bought;
    if (packs < offer.minimumPacks) faults.push(`${offer.code}: ${packs} packs, under the minimum`);
    return { offer, gives: packs * offer.packCount, costs: packs * fromAmount(offer.packPrice) };
  }
  if (offer?.form === 'metre' && purchase.bought.form === 'metre') {
    const { lengthMm } = purchase.bought;
    if (lengthMm < offer.minimumMm) faults.push(`${offer.code}: ${lengthMm} mm, under the minimum`);
    if (lengthMm % offer.stepMm !== 0) faults.push(`${offer.code}: ${lengthMm} mm, off the step`);
    return { offer, gives: lengthMm, costs: share(fromAmount(offer.pricePerMetre), 1000) * lengthMm };
  }
  throw new Error(`${purchase.offer} is bought in a form in which it is not sold`);
}
