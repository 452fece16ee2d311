import type { AskedRequirement } from '../asked/requirements.ts';
import { pointer, type Finding } from '../../model/finding.ts';
import type { Offer } from '../../model/offer.ts';
import type { Requirement } from '../../model/result.ts';
import { metres } from '../../units/length.ts';
import { usableMm } from '../../model/offerPrice.ts';
import type { Refusal } from '../../job/refusal.ts';

/** Sold in a form in which the requirement cannot be met, or in lengths that no piece fits into. */
export function formRefusal(offer: Offer, requirement: Requirement): Refusal | undefined {
  const byLength = requirement.kind !== 'count';
  if (offer.form === 'kit' && byLength)
    return {
      code: 'kit-of-length-part',
      severity: 'note',
      field: ['contents'],
      found: `a kit with ${requirement.label}, which is needed by length`,
      todo: 'What the kit contains of it is not counted. If it is also sold as a fixed length or by the metre, enter that offer.',
    };
  if (offer.form === 'pack' && byLength)
    return {
      code: 'pack-of-length-part',
      severity: 'note',
      field: ['form'],
      found: `sold in packs, but ${offer.part} is needed by length`,
      limit: 'metre or length',
      todo: 'The offer is not used. If the part is sold by the metre or as a fixed length, enter the offer so.',
    };
  if ((offer.form === 'metre' || offer.form === 'length') && !byLength)
    return {
      code: offer.form === 'metre' ? 'metre-of-counted-part' : 'length-of-counted-part',
      severity: 'note',
      field: ['form'],
      found: `sold by ${offer.form === 'metre' ? 'the metre' : 'length'}, but ${offer.part} is counted`,
      limit: 'pack',
      todo: 'The offer is not used. Enter it as packs, with the number of pieces in a pack.',
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
    todo: 'The offer is not used: every piece is longer than its length.',
  };
}

/** A fixed length that is shorter than the longest piece serves for the shorter ones alone. */
export function shortLengths(
  offer: Offer,
  index: number,
  serves: readonly Pick<AskedRequirement, 'rolledUp'>[],
): Finding[] {
  if (offer.form !== 'length') return [];
  const usable = usableMm(offer);
  return serves.flatMap(({ rolledUp }): Finding[] => {
    if (rolledUp.kind === 'count' || joins(rolledUp)) return [];
    const longest = longestOf(rolledUp.pieces);
    if (usable >= longest) return [];
    return [
      {
        code: 'length-too-short-for-some',
        severity: 'note',
        at: pointer(['offers', index, 'nominalMm']),
        where: `offer ${offer.code} of ${offer.supplier}`,
        found: `${metres(usable)} usable of ${metres(offer.nominalMm)}`,
        limit: `${metres(longest)}, the longest piece`,
        todo: 'Only the shorter pieces can be cut from this length. The longer pieces need another offer.',
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
