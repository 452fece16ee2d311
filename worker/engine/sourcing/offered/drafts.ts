import type { Offer } from '../../model/offer.ts';
import { offerParts } from '../../model/offer.ts';
import type { Part } from '../../model/part.ts';
import { choiceOf, givenBy } from './choices.ts';
import type { Choice } from '../problem/problem.ts';
import type { OnShelf } from './shelf.ts';
import { isSum, type AskedRequirement } from '../asked/requirements.ts';
import type { OffersFor } from './usableOffers.ts';

/** A choice with what it gives of each part, and the requirements that it serves with which of them. */
export interface Draft {
  choice: Omit<Choice, 'serves'>;
  parts: ReadonlyMap<string, number>;
  serves: readonly { requirement: number; part: string }[];
}

/** An offer as a choice of each order; of the first one not where it comes too late for that. */
export function offerDrafts(
  { offer, serves, late }: OffersFor['usable'][number],
  supplierAt: (code: string, wave: number) => number,
  parts: ReadonlyMap<string, Part>,
  waves: number,
): Draft[] {
  return Array.from({ length: waves }, (_, index) => index + 1).flatMap((wave): Draft[] => {
    if (late && wave === 1) return [];
    const choice = choiceOf(offer, supplierAt(offer.supplier, wave), wave, parts);
    return choice ? [{ choice, parts: givenParts(offer), serves }] : [];
  });
}

/**
 * Requirements that come in pieces cannot share what comes in lengths: for each of several such requirements it stands as a choice by
 * itself, its minimum and its breaks by itself too.
 */
export function apartByLength(draft: Draft, requirements: readonly AskedRequirement[]): Draft[] {
  const { form } = draft.choice;
  const inPieces = ({ requirement }: Draft['serves'][number]) => {
    const rolledUp = requirements[requirement]?.rolledUp;
    return rolledUp !== undefined && !isSum(rolledUp);
  };
  const apart = draft.serves.filter(inPieces);
  if ((form !== 'metre' && form !== 'length') || apart.length === 0 || draft.serves.length === 1)
    return [draft];
  const joined = draft.serves.filter((served) => !inPieces(served));
  return [...apart.map((served) => [served]), ...(joined.length > 0 ? [joined] : [])].map((serves) => ({
    ...draft,
    serves,
  }));
}

function givenParts(offer: Offer): Map<string, number> {
  return new Map(offerParts(offer).map(({ part }) => [part, givenBy(offer, part)]));
}

/** What is on the shelf as a choice that costs nothing, at hand before the first order. */
export function shelfDraft(
  { item, free }: OnShelf,
  requirements: readonly AskedRequirement[],
  supplier: number,
  pinned: ReadonlySet<string>,
): Draft | undefined {
  const each = item.form === 'length' ? item.lengthMm : 1;
  const serves = requirements.flatMap(({ rolledUp, parts }, at): Draft['serves'][number][] => {
    const isPinned = rolledUp.servedBy.some((part) => pinned.has(part));
    return parts.has(item.part) && !isPinned ? [{ requirement: at, part: item.part }] : [];
  });
  if (serves.length === 0) return undefined;
  return {
    serves,
    parts: new Map([[item.part, each]]),
    choice: {
      offer: item.code,
      supplier,
      wave: 0,
      form: item.form === 'length' ? 'length' : 'pack',
      tiers: [{ fromUnits: 1, price: 0n }],
      step: 1,
      mostUnits: free,
      microgramsPerUnit: 0,
      piecesPerUnit: 1,
    },
  };
}
