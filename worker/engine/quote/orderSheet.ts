import { madeLooms } from '../loom/madeLooms.ts';
import type { Buyer } from '../model/buyer.ts';
import type { Job } from '../model/job.ts';
import { offerParts, type Offer } from '../model/offer.ts';
import type { Part } from '../model/part.ts';
import type { OrderLine, OrderList } from '../model/result.ts';
import type { Supplier } from '../model/supplier.ts';
import type { Bought, Mix } from './purchases.ts';

/** What stands on every order list of a job: who orders, under which name, and for which vehicles. */
export function orderHead(job: Job): Pick<OrderList, 'buyer' | 'reference' | 'vehicles'> {
  const { reference } = job.request;
  const buyer: Buyer = { ...job.club.buyer, ...job.request.buyer };
  const vehicles = [...new Set(madeLooms(job).flatMap(({ loom: { vehicle } }) => vehicle ?? []))];
  return {
    ...(Object.keys(buyer).length > 0 ? { buyer } : {}),
    ...(reference === undefined ? {} : { reference }),
    ...(vehicles.length > 0 ? { vehicles } : {}),
  };
}

/** How to reach the supplier, as far as it is entered. */
export function contactOf({ email, phone, website }: Supplier): Pick<OrderList, 'contact'> {
  const contact = {
    ...(email === undefined ? {} : { email }),
    ...(phone === undefined ? {} : { phone }),
    ...(website === undefined ? {} : { website }),
  };
  return Object.keys(contact).length > 0 ? { contact } : {};
}

/**
 * What the same supplier sells that may come in place of a line: parts that meet the need alike, and those confirmed to stand
 * in that passed the checks in all its places. None for kits, and none where families hang together.
 */
export function insteadOf(
  { job, sourced, problem }: Mix,
  { purchase, offer }: Bought,
  parts: ReadonlyMap<string, Part>,
): OrderLine['instead'] {
  if (offer.form === 'kit') return undefined;
  const at = problem.requirements.findIndex(({ id }) => id === purchase.requirement);
  const asked = sourced[at];
  if (!asked || asked.when !== undefined) return undefined;
  const allowed = (part: string) =>
    part !== offer.part &&
    asked.parts.has(part) &&
    (asked.parts.get(part)?.status ?? 'confirmed') === 'confirmed' &&
    parts.get(part)?.family === parts.get(offer.part)?.family;
  const others = job.offers.filter(
    (other) =>
      other.supplier === offer.supplier &&
      other.form === offer.form &&
      other.condition === offer.condition &&
      offerParts(other).every(({ part }) => allowed(part)),
  );
  const told = new Map(others.map((other) => [other.supplierCode ?? other.code, namedOf(other, parts)]));
  return told.size === 0 ? undefined : [...told.values()];
}

function namedOf(offer: Offer, parts: ReadonlyMap<string, Part>): NonNullable<OrderLine['instead']>[number] {
  const [first] = offerParts(offer);
  const description = offer.description ?? parts.get(first?.part ?? '')?.description ?? '';
  return {
    ...(offer.supplierCode === undefined ? {} : { supplierCode: offer.supplierCode }),
    description,
  };
}
