import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import { offerCurrency, offerParts, type Offer } from '../model/offer.ts';
import type { Requirement } from '../model/result.ts';
import type { Supplier } from '../model/supplier.ts';

type UsableOffer = Extract<Offer, { form: 'pack' | 'metre' }>;

/** The offers that can meet a requirement, and why others that sell its parts cannot. */
export interface OffersFor {
  usable: { offer: UsableOffer; requirement: Requirement }[];
  /** By requirement: a sentence for each offer that cannot be used. */
  refused: Map<string, string[]>;
  findings: Finding[];
}

interface Refusal {
  code: string;
  severity: 'warning' | 'note';
  field: PropertyKey[];
  found: string;
  limit?: string;
  todo: string;
}

/** Sorts a normalised job's offers into those that the requirements can use and those that they cannot. */
export function offersFor(job: Job, requirements: readonly Requirement[]): OffersFor {
  const needing = new Map(
    requirements.flatMap((requirement) => requirement.servedBy.map((part) => [part, requirement] as const)),
  );
  const suppliers = new Map(job.suppliers.map((supplier) => [supplier.code, supplier]));
  const result: OffersFor = { usable: [], refused: new Map(), findings: [] };
  job.offers.forEach((offer, index) => {
    const needed = offerParts(offer).flatMap(({ part }) => needing.get(part) ?? []);
    const [first] = needed;
    if (!first) return;
    if (offer.form === 'kit' || offer.form === 'length') {
      const form = offer.form === 'kit' ? 'is a kit' : 'is a fixed length';
      refuse(result, needed, `offer ${offer.code} ${form}, which is not worked out yet`);
      return;
    }
    const refusal = refusalOf(offer, first, suppliers.get(offer.supplier), job.club.currency);
    if (!refusal) {
      result.usable.push({ offer, requirement: first });
      return;
    }
    refuse(result, needed, `offer ${offer.code}: ${refusal.found}`);
    const { field, ...said } = refusal;
    result.findings.push({
      ...said,
      at: pointer(['offers', index, ...field]),
      where: `offer ${offer.code} of ${offer.supplier}`,
    });
  });
  return result;
}

function refuse({ refused }: OffersFor, needed: readonly Requirement[], why: string): void {
  for (const { id } of needed) addTo(refused, id, why);
}

function refusalOf(
  offer: UsableOffer,
  requirement: Requirement,
  supplier: Supplier | undefined,
  currency: string,
): Refusal | undefined {
  if (offerCurrency(offer) !== currency)
    return {
      code: 'offer-in-other-currency',
      severity: 'warning',
      field: [offer.form === 'pack' ? 'packPrice' : 'pricePerMetre', 'currency'],
      found: `priced in ${offerCurrency(offer)}`,
      limit: `the club’s currency, ${currency}`,
      todo: `The offer is not used: currencies are not changed yet. Enter its price in ${currency}.`,
    };
  if (supplier?.postage && supplier.currency !== currency)
    return {
      code: 'postage-in-other-currency',
      severity: 'warning',
      field: ['supplier'],
      found: `sent by ${supplier.code}, who charges postage in ${supplier.currency}`,
      limit: `the club’s currency, ${currency}`,
      todo: `The offer is not used: currencies are not changed yet. Enter the supplier and its postage in ${currency}.`,
    };
  if (offer.form === 'pack' && requirement.kind === 'wire')
    return {
      code: 'pack-of-length-part',
      severity: 'note',
      field: ['form'],
      found: `sold in packs, but ${offer.part} is needed by length`,
      limit: 'metre',
      todo: 'The offer is not used. Enter it by the metre, where it is sold so.',
    };
  if (offer.form === 'metre' && requirement.kind === 'count')
    return {
      code: 'metre-of-counted-part',
      severity: 'note',
      field: ['form'],
      found: `sold by the metre, but ${offer.part} is counted`,
      limit: 'pack',
      todo: 'The offer is not used. Enter it as packs of so many pieces.',
    };
  return undefined;
}
