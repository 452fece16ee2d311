import { pointer, type Finding } from '../../model/finding.ts';
import { addTo } from '../../model/group.ts';
import type { Job } from '../../model/job.ts';
import { offerParts, type Offer } from '../../model/offer.ts';
import type { Listing, Market } from '../../job/market.ts';
import { formRefusal, shortLengths } from './formRefusals.ts';
import type { Need } from '../asked/needs.ts';
import type { Refusal } from '../../job/refusal.ts';

interface Serving {
  need: number;
  part: string;
}

/** The offers that can meet needs, and why others that sell their parts cannot. */
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

/** Sorts a normalised job's offers into those that the needs can use and those that they cannot. */
export function offersFor(job: Job, needs: readonly Need[], { listings }: Market): OffersFor {
  const needing = new Map<string, number[]>();
  needs.forEach(({ parts }, index) => {
    for (const part of parts.keys()) addTo(needing, part, index);
  });
  const pinnedTo = new Map((job.request.pinned ?? []).map(({ part, offer }) => [part, offer]));
  const result: OffersFor = { usable: [], refused: new Map(), findings: [] };
  const suppliersOut = new Map<string, Finding>();
  const judge = ({ offer, index, supplier, out, refusal: whole, late }: Listing) => {
    const needed = offerParts(offer).flatMap(({ part }) =>
      (needing.get(part) ?? []).map((at): Serving => ({ need: at, part })),
    );
    if (needed.length === 0) return;
    const idOf = (at: number) => needs[at]?.requirement.id ?? '';
    const tell = (from: typeof needed, why: string) => {
      for (const id of new Set(from.map(({ need }) => idOf(need))))
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
      const rolledUp = needs[served.need]?.requirement;
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
        serves.flatMap(({ need }) => needs[need] ?? []),
      ),
    );
  };
  listings.forEach(judge);
  result.findings.push(...suppliersOut.values());
  return result;
}
