import type { Finding } from '../model/finding.ts';
import type { Job } from '../model/job.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import { isByLength } from '../model/part.ts';
import type { Supplier } from '../model/supplier.ts';
import { exchangeOf, type Exchange } from '../model/exchange.ts';
import { customsOf, type Customs } from './lanes.ts';
import {
  conditionRefusal,
  currencyRefusal,
  lastDayOf,
  lateRefusal,
  leadDaysOf,
  stockRefusal,
} from './offerRefusals.ts';
import { wavesOf } from './orders.ts';
import type { Refusal } from './refusal.ts';
import { quoteSettings } from './settings.ts';
import { proposedLeftOut, unconfirmedRefusal, type Proposed } from './unconfirmed.ts';
import { supplierOut } from './supplierOut.ts';

/** An offer with what its supplier's terms, the club's settings and the request say of it. */
export interface Listing {
  offer: Offer;
  /** Its place in the job's list of offers. */
  index: number;
  supplier: Supplier;
  /** Days from order to arrival, where they are known. */
  leadDays: number | undefined;
  /** Why nothing can be bought of its supplier. */
  out: { why: string; finding: Finding } | undefined;
  /** Why none of it can be bought, whatever it is needed for. */
  refusal: Refusal | undefined;
  /** It comes too late for the first order; a later one may still have it. */
  late: boolean;
}

/** What can be bought, and in which money and on which terms. Worked out once for a job and asked by all that follows. */
export interface Market {
  exchange: Exchange;
  /** How many orders the request has. */
  waves: number;
  /** By supplier code. */
  suppliers: ReadonlyMap<string, Supplier>;
  customsOf: (supplier: Supplier) => Customs;
  /** In the order of the job's offers; those of unknown suppliers are left out. */
  listings: readonly Listing[];
  /** Whether some of a part can be bought, or is on the shelf, in a form in which its kind is used. */
  has: (part: string) => boolean;
}

/** The one opinion on what can be bought: stock, dates, rates, conditions, currency, suppliers shut out. */
export function marketOf(job: Job): Market {
  const exchange = exchangeOf(job);
  const waves = wavesOf(job);
  const lastDay = lastDayOf(job);
  const accepted = quoteSettings(job).conditionsAccepted.value;
  const leftOut = proposedLeftOut(job);
  const suppliers = new Map(job.suppliers.map((supplier) => [supplier.code, supplier]));
  const customs = new Map(job.suppliers.map((supplier) => [supplier, customsOf(job, supplier)]));
  const out = new Map(job.suppliers.map((supplier) => [supplier, supplierOut(job, supplier, exchange)]));
  const listings = job.offers.flatMap((offer, index): Listing[] => {
    const supplier = suppliers.get(offer.supplier);
    if (!supplier) return [];
    const late = lateRefusal(job, offer, supplier, lastDay);
    return [
      {
        offer,
        index,
        supplier,
        leadDays: leadDaysOf(offer, supplier),
        out: out.get(supplier),
        refusal:
          currencyRefusal(offer, supplier) ??
          unconfirmedRefusal(offer, leftOut) ??
          conditionRefusal(offer, accepted) ??
          stockRefusal(offer) ??
          (waves === 1 ? late : undefined),
        late: late !== undefined,
      },
    ];
  });
  const there = partsThere(job, listings, leftOut);
  return {
    exchange,
    waves,
    suppliers,
    customsOf: (supplier) => customs.get(supplier) ?? customsOf(job, supplier),
    listings,
    has: (part) => there.has(part),
  };
}

function partsThere(job: Job, listings: readonly Listing[], leftOut: Proposed): ReadonlySet<string> {
  const byLength = new Map(job.parts.map(({ code, kind }) => [code, isByLength(kind)]));
  const pinnedTo = new Map((job.request.pinned ?? []).map(({ part, offer }) => [part, offer]));
  const sold = listings
    .filter(({ out, refusal }) => !out && !refusal)
    .flatMap(({ offer }) => {
      const lengths = offer.form === 'metre' || offer.form === 'length';
      return offerParts(offer)
        .map(({ part }) => part)
        .filter(
          (part) => byLength.get(part) === lengths && (pinnedTo.get(part) ?? offer.code) === offer.code,
        );
    });
  const shelf =
    job.request.useStock === false
      ? []
      : job.stock.filter(
          ({ part, form, count }) =>
            count > 0 && byLength.get(part) === (form === 'length') && !leftOut.parts.has(part),
        );
  return new Set([...sold, ...shelf.map(({ part }) => part)]);
}
