import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import { offerCurrency, offerParts, type Offer } from '../model/offer.ts';
import type { Requirement } from '../model/result.ts';
import type { SettingValues } from '../model/settings.ts';
import type { Supplier } from '../model/supplier.ts';
import { metres } from '../units/length.ts';
import { usableMm } from './choices.ts';

/** The offers that can meet requirements, and why others that sell their parts cannot. */
export interface OffersFor {
  usable: { offer: Offer; serves: { requirement: Requirement; part: string }[] }[];
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
export function offersFor(
  job: Job,
  requirements: readonly Requirement[],
  accepted: SettingValues['conditionsAccepted'],
): OffersFor {
  const needing = new Map(
    requirements.flatMap((requirement) => requirement.servedBy.map((part) => [part, requirement] as const)),
  );
  const suppliers = new Map(job.suppliers.map((supplier) => [supplier.code, supplier]));
  const result: OffersFor = { usable: [], refused: new Map(), findings: [] };
  job.offers.forEach((offer, index) => {
    const needed = offerParts(offer).flatMap(({ part }) => {
      const requirement = needing.get(part);
      return requirement ? [{ requirement, part }] : [];
    });
    if (needed.length === 0) return;
    const refuse = ({ field, ...said }: Refusal, from: typeof needed) => {
      for (const { requirement } of from)
        addTo(result.refused, requirement.id, `offer ${offer.code}: ${said.found}`);
      result.findings.push({
        ...said,
        at: pointer(['offers', index, ...field]),
        where: `offer ${offer.code} of ${offer.supplier}`,
      });
    };
    const whole =
      moneyRefusal(offer, suppliers.get(offer.supplier), job.club.currency) ?? termsRefusal(offer, accepted);
    if (whole) {
      refuse(whole, needed);
      return;
    }
    const serves = needed.filter((served) => {
      const refusal = formRefusal(offer, served.requirement);
      if (refusal) refuse(refusal, [served]);
      return refusal === undefined;
    });
    if (serves.length === 0) return;
    result.usable.push({ offer, serves });
    result.findings.push(...shortLengths(offer, index, serves));
  });
  return result;
}

function moneyRefusal(offer: Offer, supplier: Supplier | undefined, currency: string): Refusal | undefined {
  if (offerCurrency(offer) !== currency)
    return {
      code: 'offer-in-other-currency',
      severity: 'warning',
      field: [offer.form === 'metre' ? 'pricePerMetre' : 'packPrice', 'currency'],
      found: `priced in ${offerCurrency(offer)}`,
      limit: `the club’s currency, ${currency}`,
      todo: `The offer is not used: currencies are not changed yet. Enter its price in ${currency}.`,
    };
  const charges = supplier?.postage ?? supplier?.handling ?? supplier?.minimumOrder;
  if (supplier && charges && supplier.currency !== currency)
    return {
      code: 'postage-in-other-currency',
      severity: 'warning',
      field: ['supplier'],
      found: `sent by ${supplier.code}, who charges postage in ${supplier.currency}`,
      limit: `the club’s currency, ${currency}`,
      todo: `The offer is not used: currencies are not changed yet. Enter the supplier and its postage in ${currency}.`,
    };
  return undefined;
}

function termsRefusal(offer: Offer, accepted: SettingValues['conditionsAccepted']): Refusal | undefined {
  if (!accepted.includes(offer.condition))
    return {
      code: 'condition-not-accepted',
      severity: 'note',
      field: ['condition'],
      found: `condition ${offer.condition}`,
      limit: accepted.join(', '),
      todo: 'The offer is not used. To use it, add its condition to the setting conditionsAccepted.',
    };
  const stock = offer.form === 'metre' ? offer.stockMm : offer.stockPacks;
  const minimum = offer.form === 'metre' ? offer.minimumMm : offer.minimumPacks;
  const step = offer.form === 'metre' ? offer.stepMm : offer.stepPacks;
  if (stock !== undefined && Math.floor(stock / step) * step < Math.ceil(minimum / step) * step)
    return {
      code: stock === 0 ? 'out-of-stock' : 'stock-below-minimum',
      severity: 'note',
      field: [offer.form === 'metre' ? 'stockMm' : 'stockPacks'],
      found: stock === 0 ? 'none in stock' : `${stock} in stock, less than the least order`,
      todo: 'The offer is not used. Enter what is in stock when there is some.',
    };
  return undefined;
}

function formRefusal(offer: Offer, requirement: Requirement): Refusal | undefined {
  const byLength = requirement.kind !== 'count';
  if (offer.form === 'kit' && byLength)
    return {
      code: 'kit-of-length-part',
      severity: 'note',
      field: ['contents'],
      found: `a kit with ${requirement.label}, which is needed by length`,
      todo: 'What the kit holds of it is not counted. Enter it as a fixed length or by the metre, where it is sold so.',
    };
  if (offer.form === 'pack' && byLength)
    return {
      code: 'pack-of-length-part',
      severity: 'note',
      field: ['form'],
      found: `sold in packs, but ${offer.part} is needed by length`,
      limit: 'metre or length',
      todo: 'The offer is not used. Enter it by the metre or as a fixed length, where it is sold so.',
    };
  if ((offer.form === 'metre' || offer.form === 'length') && !byLength)
    return {
      code: offer.form === 'metre' ? 'metre-of-counted-part' : 'length-of-counted-part',
      severity: 'note',
      field: ['form'],
      found: `sold by ${offer.form === 'metre' ? 'the metre' : 'length'}, but ${offer.part} is counted`,
      limit: 'pack',
      todo: 'The offer is not used. Enter it as packs of so many pieces.',
    };
  if (offer.form !== 'length' || requirement.kind === 'count') return undefined;
  const usable = usableMm(offer);
  // Tape is joined, so that any length serves that has a millimetre.
  const shortest = joins(requirement)
    ? 1
    : requirement.pieces.reduce((least, { cutMm }) => Math.min(least, cutMm), Infinity);
  if (usable >= shortest) return undefined;
  return {
    code: 'length-too-short',
    severity: 'note',
    field: ['nominalMm'],
    found: `${metres(usable)} usable of ${metres(offer.nominalMm)}`,
    limit: joins(requirement) ? 'at least 1 mm' : `${metres(shortest)}, the shortest piece`,
    todo: 'The offer is not used: no piece fits into its length.',
  };
}

/** A fixed length that is shorter than the longest piece serves for the shorter ones alone. */
function shortLengths(
  offer: Offer,
  index: number,
  serves: readonly { requirement: Requirement }[],
): Finding[] {
  if (offer.form !== 'length') return [];
  const usable = usableMm(offer);
  return serves.flatMap(({ requirement }): Finding[] => {
    if (requirement.kind === 'count' || joins(requirement)) return [];
    const longest = longestOf(requirement.pieces);
    if (usable >= longest) return [];
    return [
      {
        code: 'length-too-short-for-some',
        severity: 'note',
        at: pointer(['offers', index, 'nominalMm']),
        where: `offer ${offer.code} of ${offer.supplier}`,
        found: `${metres(usable)} usable of ${metres(offer.nominalMm)}`,
        limit: `${metres(longest)}, the longest piece`,
        todo: 'Only the shorter pieces can be cut from this length; the longer ones need another offer.',
      },
    ];
  });
}

function longestOf(pieces: readonly { cutMm: number }[]): number {
  return pieces.reduce((longest, { cutMm }) => Math.max(longest, cutMm), 0);
}

function joins(requirement: Requirement): boolean {
  return requirement.kind === 'length' && requirement.joinable;
}
