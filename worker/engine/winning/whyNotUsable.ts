import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { offerParts } from '../model/offer.ts';

/** Of an offer that no job knows. */
export function unknownOffer(offer: string): Finding[] {
  return [
    {
      code: 'unknown-offer',
      severity: 'stop',
      at: '/offers',
      where: 'offers',
      found: `none with the code ${offer}`,
      todo: 'Name an offer of the job by its code.',
    },
  ];
}

/** Of an offer that is in the job as it was given, but sells nothing that its looms need. */
export function offerNotNeeded(given: Job, offer: string): Finding[] {
  const index = given.offers.findIndex(({ code }) => code === offer);
  return [
    {
      code: 'offer-not-needed',
      severity: 'stop',
      at: pointer(['offers', index]),
      where: `offer ${offer}`,
      found:
        'it sells nothing that these looms need, and nothing that can stand in for a part that they need',
      todo: 'Name an offer of something that is needed.',
    },
  ];
}

/**
 * Why an offer of a normalised job is none that could be bought, whatever it cost; `findings`: what the sourcing says of
 * the job's offers.
 */
export function whyNotUsable(job: Job, offer: string, findings: readonly Finding[]): Finding[] {
  const index = job.offers.findIndex(({ code }) => code === offer);
  const found = job.offers[index];
  if (!found) return unknownOffer(offer);
  const where = `offer ${offer} of ${found.supplier}`;
  const at = pointer(['offers', index]);
  const supplier = pointer(['suppliers', job.suppliers.findIndex(({ code }) => code === found.supplier)]);
  const shutOut = pointer(['request', 'shutOut', (job.request.shutOut ?? []).indexOf(found.supplier)]);
  const isOfIt = (finding: Finding) =>
    [at, supplier, shutOut].some((place) => finding.at === place || finding.at.startsWith(`${place}/`)) ||
    finding.where.split(',')[0] === `supplier ${found.supplier}`;
  const pins = (job.request.pinned ?? []).flatMap((pin, place): Finding[] =>
    pin.offer !== offer && offerParts(found).some(({ part }) => part === pin.part)
      ? [
          {
            code: 'part-pinned-elsewhere',
            severity: 'note',
            at: pointer(['request', 'pinned', place]),
            where: `part ${pin.part}`,
            found: `pinned to offer ${pin.offer}`,
            todo: 'Remove the pin to use other offers of the part.',
          },
        ]
      : [],
  );
  return [
    {
      code: 'offer-not-usable',
      severity: 'stop',
      at,
      where,
      found: 'it cannot be bought for this quote at any price',
      todo: 'Fix the faults of the offer that are listed below. If none is listed, this quote does not need what it sells, or there is not enough of it for any need.',
    },
    ...pins,
    ...findings.filter(isOfIt),
  ];
}
