import type { Job } from '../model/job.ts';
import { offerParts } from '../model/offer.ts';
import type { Condition } from '../model/offer.ts';
import type { z } from 'zod';

/** The parts that some offer sells in a condition that is accepted, by code. */
export function partsOnOffer(
  { offers }: Pick<Job, 'offers'>,
  accepted: readonly z.infer<typeof Condition>[],
): ReadonlySet<string> {
  return new Set(
    offers
      .filter(({ condition }) => accepted.includes(condition))
      .flatMap((offer) => offerParts(offer).map(({ part }) => part)),
  );
}
