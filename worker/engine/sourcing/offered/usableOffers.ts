import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Job } from '../../model/job.ts';
import { offerParts, type Offer } from '../../model/offer.ts';
import type { Listing, Market } from '../../job/market.ts';
import { formRefusal, shortLengths } from './formRefusals.ts';
import type { AskedRequirement } from '../asked/requirements.ts';
import type { Refusal } from '../../job/refusal.ts';

interface Serving {
  requirement: number;
  part: string;
}

/** The offers that can meet requirements, and why others that sell their parts cannot. */
export interface OffersFor {
  usable: {
    offer: Offer;
    serves: Serving[];
    /** Comes too late for the first order. */
    late: boolean;
  }[];
  /** By requirement: a sentence for each offer that cannot be used. */
  refused: Map<string, string[]>;
  findings: Finding[];
}

/** Sorts a normalised job's offers into those that the requirements can use and those that they cannot. */
export function offersFor(
  job: Job,
  requirements: readonly AskedRequirement[],
  { listings }: Market,
): OffersFor {
  const needing = new Map<string, number[]>();
  requirements.forEach(({ parts }, index) => {
    for (const part of parts.keys()) addTo(needing, part, index);
  });
  const pinnedTo = new Map((job.request.pinned ?? []).map(({ part, offer }) => [part, offer]));
  const result: OffersFor = { usable: [], refused: new Map(), findings: [] };
  const suppliersOut = new Map<string, Finding>();
  const judge = ({ offer, index, supplier, out, refusal: whole, late }: Listing) => {
    const needed = offerParts(offer).flatMap(({ part }) =>
      (needing.get(part) ?? []).map((at): Serving => ({ requirement: at, part })),
    );
    if (needed.length === 0) return;
    const idOf = (at: number) => requirements[at]?.rolledUp.id ?? '';
    const tell = (from: typeof needed, why: string) => {
      for (const id of new Set(from.map(({ requirement }) => idOf(requirement))))
        addTo(result.refused, id, `offer ${offer.code}: ${why}`);
    };
    const refuse = ({ field, ...said }: Refusal, from: typeof needed) => {
      tell(from, said.found);
      result.findings.push({
        ...said,
        at: pointer(['offers', index, ...field]),
        where: `offer ${offer.code} of ${offer.supplier}`,
      });
    };
    if (out) {
      suppliersOut.set(supplier.code, out.finding);
      tell(needed, out.why);
      return;
    }
    if (whole) {
      refuse(whole, needed);
      return;
    }
    const serves = needed.filter((served) => {
      const rolledUp = requirements[served.requirement]?.rolledUp;
      if (!rolledUp) return false;
      const pin = rolledUp.servedBy.map((part) => pinnedTo.get(part)).find((to) => to !== undefined);
      if (pin !== undefined && pin !== offer.code) {
        tell([served], `the part is pinned to offer ${pin}`);
        return false;
      }
      const refusal = formRefusal(offer, rolledUp);
      if (refusal) refuse(refusal, [served]);
      return refusal === undefined;
    });
    if (serves.length === 0) return;
    result.usable.push({ offer, serves, late });
    result.findings.push(
      ...shortLengths(
        offer,
        index,
        serves.flatMap(({ requirement }) => requirements[requirement] ?? []),
      ),
    );
  };
  listings.forEach(judge);
  result.findings.push(...suppliersOut.values());
  return result;
}
