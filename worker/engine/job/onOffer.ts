import type { Job } from '../model/job.ts';
import { offerParts } from '../model/offer.ts';
import type { Condition } from '../model/offer.ts';
import type { z } from 'zod';

/** The parts that are on the shelf, or that some offer of a supplier that is not shut out sells in a condition that is accepted, by code. */
export function partsOnOffer(
  { offers, stock, request }: Pick<Job, 'offers' | 'stock' | 'request'>,
  accepted: readonly z.infer<typeof Condition>[],
): ReadonlySet<string> {
  const shut = new Set(request.shutOut ?? []);
  const sold = offers
    .filter(({ condition, supplier }) => accepted.includes(condition) && !shut.has(supplier))
    .flatMap((offer) => offerParts(offer).map(({ part }) => part));
  const shelf = request.useStock === false ? [] : stock.map(({ part }) => part);
  return new Set([...sold, ...shelf]);
}
