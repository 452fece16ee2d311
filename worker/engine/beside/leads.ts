import { leadDaysOf } from '../job/offerRefusals.ts';
import type { Job } from '../model/job.ts';
import type { Problem } from '../sourcing/problem/problem.ts';

/** By choice, how many days what comes with the first order takes, where that is known. */
export function leadsOf({ offers, suppliers }: Job, { choices }: Problem): (number | undefined)[] {
  const sellers = new Map(suppliers.map((supplier) => [supplier.code, supplier]));
  const leads = new Map(
    offers.map((offer) => {
      const seller = sellers.get(offer.supplier);
      return [offer.code, seller && leadDaysOf(offer, seller)];
    }),
  );
  return choices.map(({ offer, wave }) => (wave === 1 ? leads.get(offer) : undefined));
}
