import { proposedIn } from '../job/unconfirmed.ts';
import { pointer, type Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { offerParts } from '../model/offer.ts';
import type { UnconfirmedPurchase } from '../model/unconfirmed.ts';
import type { Bought } from './purchases.ts';

/** What of a purchase is looked at here. */
type Looked = Pick<Bought, 'offer' | 'purchase' | 'standIns'>;

/**
 * What purchases rest on that nobody has confirmed, in their order: a proposed offer, proposed parts that it sells, parts that are
 * bought in place of others on a proposal only. Each is said once, however many orders buy it.
 */
export function unconfirmedIn(
  job: Pick<Job, 'unconfirmed'>,
  bought: readonly Looked[],
): UnconfirmedPurchase[] {
  const proposed = proposedIn(job);
  const said = new Map<string, UnconfirmedPurchase>();
  const say = (one: UnconfirmedPurchase) => {
    const key = JSON.stringify(one);
    if (!said.has(key)) said.set(key, one);
  };
  for (const { offer, purchase, standIns } of bought) {
    if (proposed.offers.has(offer.code))
      say({
        offer: offer.code,
        part: purchase.part,
        why: 'offer',
        detail: `the offer ${offer.code} is proposed, and nobody has confirmed it`,
      });
    for (const { part } of offerParts(offer))
      if (proposed.parts.has(part))
        say({
          offer: offer.code,
          part,
          why: 'part',
          detail: `the part ${part} is proposed, and nobody has confirmed it`,
        });
    for (const { part, insteadOf, standIn } of standIns)
      if (standIn.status === 'proposed')
        say({
          offer: offer.code,
          part,
          why: 'standIn',
          detail: `${part} is bought instead of ${insteadOf}, and nobody has confirmed that it can be`,
        });
  }
  return [...said.values()];
}

/** A warning for each. */
export function unconfirmedChecks(
  job: Pick<Job, 'parts' | 'offers'>,
  unconfirmed: readonly UnconfirmedPurchase[],
): Finding[] {
  if (unconfirmed.length === 0) return [];
  const at = {
    offers: new Map(job.offers.map(({ code }, index) => [code, index])),
    parts: new Map(job.parts.map(({ code }, index) => [code, index])),
  };
  return unconfirmed.map(({ offer, part, why, detail }) => {
    const index = at.offers.get(offer) ?? 0;
    return {
      code: 'bought-unconfirmed',
      severity: 'warning',
      at: pointer(why === 'offer' ? ['offers', index] : ['parts', at.parts.get(part) ?? 0]),
      where: `offer ${offer} of ${job.offers[index]?.supplier ?? ''}`,
      found: detail,
      todo: 'Check it before you order, and ask an editor to confirm it. To buy only what is confirmed, ask for the quote with confirmedOnly.',
    };
  });
}
