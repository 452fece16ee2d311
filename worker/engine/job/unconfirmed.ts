import { byCode } from '../model/code.ts';
import type { Job } from '../model/job.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import type { ProposedEntries } from '../model/unconfirmed.ts';
import type { Refusal } from './refusal.ts';

/** Parts and offers of a job that nobody has confirmed, by code. */
export interface Proposed {
  parts: ReadonlySet<string>;
  offers: ReadonlySet<string>;
}

export function proposedIn({ unconfirmed }: Pick<Job, 'unconfirmed'>): Proposed {
  return { parts: new Set(unconfirmed?.parts), offers: new Set(unconfirmed?.offers) };
}

/** The same of which the request allows no purchase: none, unless it asks for confirmedOnly. */
export function proposedLeftOut(job: Pick<Job, 'unconfirmed' | 'request'>): Proposed {
  return proposedIn(job.request.confirmedOnly === true ? job : {});
}

/** Of what was proposed, that which is among these parts and offers, in order; nothing at all where none is. */
export function proposedAmong(
  job: Pick<Job, 'unconfirmed'>,
  kept: { parts: readonly { code: string }[]; offers: readonly { code: string }[] },
): { unconfirmed?: ProposedEntries } {
  const proposed = proposedIn(job);
  const among = (field: keyof Proposed) => {
    const codes = kept[field].flatMap(({ code }) => (proposed[field].has(code) ? [code] : []));
    return codes.length === 0 ? {} : { [field]: codes.sort(byCode) };
  };
  const unconfirmed: ProposedEntries = { ...among('parts'), ...among('offers') };
  return Object.keys(unconfirmed).length === 0 ? {} : { unconfirmed };
}

/** Of an offer that is proposed, or sells a part that is. */
export function unconfirmedRefusal(offer: Offer, { parts, offers }: Proposed): Refusal | undefined {
  const said = {
    code: 'offer-not-confirmed',
    severity: 'note',
    limit: 'only what is confirmed (confirmedOnly)',
  } as const;
  if (offers.has(offer.code))
    return {
      ...said,
      field: [],
      found: 'it is proposed, and nobody has confirmed it',
      todo: 'The offer is not used. Ask an editor to confirm it, or ask for the quote without confirmedOnly.',
    };
  const part = offerParts(offer).find((sold) => parts.has(sold.part));
  if (!part) return undefined;
  return {
    ...said,
    field: part.path,
    found: `it sells ${part.part}, a proposed part that nobody has confirmed`,
    todo: `The offer is not used. Ask an editor to confirm the part ${part.part}, or ask for the quote without confirmedOnly.`,
  };
}
