import type { Job } from '../../../worker/engine/model/job.ts';
import { usableMm } from './usable.ts';
import { leftOver } from './packing.ts';
import type { Place } from './covers.ts';
import { counts, serves, type Offer } from './onSale.ts';
import { fineOf } from './rates.ts';
import type { Rules } from './rules.ts';
import type { Requirement } from './scenarios.ts';
import { GRAM, type Seller } from './sellers.ts';

/** An amount of an offer that may be bought: packs, lengths or kits, or mm by the metre; what it costs and weighs. */
export interface Amount {
  count: number;
  costs: number;
  weight: number;
}

/**
 * Every amount of an offer that needs trying in one order, rising. The ladder ends at the first amount that (1) is at its
 * last break or above, (2) by itself meets all that the offer could serve, every order's, (3) by itself brings the
 * supplier to every value that matters to what it charges (`values` all: minimum order and the last band or free
 * threshold; minimum: only the minimum order), or costs nothing, and (4) weighs as much as the last band that charges
 * less than the one before.
 *
 * Nothing cheaper lies above: a purchase with more of this offer may take this amount instead. The needs are still met,
 * its units keep their price, so the goods cost no more; carriage by value is the same; the weight falls, by (4) never
 * to a dearer band; and duty, tax and fees never fall where goods, carriage or their value rise. With `minimum` breaks do
 * not count and the cost may be higher, but what can be met can be met by these amounts.
 */
export function amountsOf(
  job: Job,
  place: Place,
  covers: readonly { required: number; each: number }[],
  requirements: readonly Requirement[],
  seller: Seller,
  rules: Rules,
  values: 'all' | 'minimum',
): Amount[] {
  const { offer } = place;
  const weighed = weightOfOne(job, offer);
  const lastBreak =
    values === 'all' && rules.breaks ? Math.max(0, ...breaksOf(offer).map(({ from }) => from)) : 0;
  const value = values === 'all' ? seller.lastValue : seller.minimumOrder;
  const lastFall = values === 'all' ? seller.lastFall : 0;
  const amounts: Amount[] = [];
  for (const count of counts(offer, rules)) {
    const costs = costOf(offer, count, rules);
    const weight = count * weighed;
    amounts.push({ count, costs, weight });
    if (amounts.length > 400) throw new Error(`${offer.code} has too many amounts to try`);
    const valuable = costs >= value || costs === 0;
    const heavy = weight >= lastFall || weighed === 0;
    if (count >= lastBreak && valuable && heavy && meetsAlone(place, count, covers, requirements, rules))
      break;
  }
  return amounts;
}

/** In fine units: all are at the price of the last break that the count has reached. */
export function costOf(offer: Offer, count: number, rules: Rules): number {
  const first = fineOf(offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice);
  const reached = rules.breaks ? breaksOf(offer).findLast(({ from }) => from <= count) : undefined;
  const costs = ((reached?.price ?? first) / (offer.form === 'metre' ? 1000 : 1)) * count;
  if (!Number.isSafeInteger(costs)) throw new RangeError(`${offer.code} costs no exact whole number`);
  return costs;
}

function breaksOf(offer: Offer): { from: number; price: number }[] {
  return offer.form === 'metre'
    ? (offer.breaks ?? []).map((entry) => ({ from: entry.fromMm, price: fineOf(entry.pricePerMetre) }))
    : (offer.breaks ?? []).map((entry) => ({ from: entry.fromPacks, price: fineOf(entry.packPrice) }));
}

/** Micrograms of a pack, a fixed length, a kit, or a mm. A weight that is not stated is 0. */
export function weightOfOne(job: Job, offer: Offer): number {
  const part = (code: string) => job.parts.find((candidate) => candidate.code === code);
  const piece = (code: string) => Math.round((part(code)?.weightG ?? 0) * 1000) * (GRAM / 1000);
  const ofMm = (code: string) => {
    const found = part(code);
    return found && 'gramsPerM' in found ? Math.round((found.gramsPerM ?? 0) * 1000) : 0;
  };
  switch (offer.form) {
    case 'pack':
      return offer.packCount * piece(offer.part);
    case 'kit':
      return offer.contents.reduce((sum, { part: code, quantity }) => sum + quantity * piece(code), 0);
    case 'length':
      return offer.nominalMm * ofMm(offer.part);
    case 'metre':
      return ofMm(offer.part);
  }
}

/** Whether a count of the offer meets by itself, all at once, what it could serve of the requirements. */
function meetsAlone(
  { offer }: Place,
  count: number,
  covers: readonly { required: number; each: number }[],
  requirements: readonly Requirement[],
  rules: Rules,
): boolean {
  return (
    covers.every(({ required, each }) => each === 0 || count * each >= required) &&
    requirements.every(
      (requirement) =>
        requirement.rolledUp.kind !== 'length' ||
        !serves(offer, requirement, rules) ||
        cutsAll(offer, count, requirement.rolledUp, rules),
    )
  );
}

function cutsAll(
  offer: Offer,
  count: number,
  requirement: Extract<Requirement['rolledUp'], { kind: 'length' }>,
  rules: Rules,
): boolean {
  const pieces = requirement.pieces.map(({ mm }) => mm);
  const total = pieces.reduce((sum, mm) => sum + mm, 0);
  if (offer.form !== 'length') return count >= total;
  const each = usableMm(offer, rules);
  if (requirement.joinable) return count * each >= total;
  const fitting = pieces.filter((mm) => mm <= each);
  return leftOver(fitting, Array<number>(Math.min(count, fitting.length)).fill(each)) === 0;
}
