import type { Job } from '../../../worker/engine/model/job.ts';
import { usableMm } from './usable.ts';
import type { Rules } from './rules.ts';
import type { Requirement } from './scenarios.ts';
import { isPriced } from './taxes.ts';

export type Offer = Job['offers'][number];

/** Whether anything may be bought of the offer in an order. */
export function isOnSale(job: Job, offer: Offer, wave: number, rules: Rules): boolean {
  const accepted = job.request.settings?.conditionsAccepted ??
    job.club.settings.conditionsAccepted ?? ['new', 'oldStock', 'reproduction'];
  const supplier = job.suppliers.find(({ code }) => code === offer.supplier);
  const price = offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice;
  return (
    supplier !== undefined &&
    price.currency === supplier.currency &&
    counts(offer, rules).next().done !== true &&
    isPriced(job, supplier, rules) &&
    (!rules.conditions || accepted.includes(offer.condition)) &&
    (rules.kits || offer.form !== 'kit') &&
    !(rules.shutOut && job.request.shutOut?.includes(supplier.code)) &&
    (wave > 1 ||
      isInTime(job, rules.offerLeadDays ? (offer.leadDays ?? supplier.leadDays) : supplier.leadDays, rules))
  );
}

function isInTime(job: Job, leadDays: number | undefined, rules: Rules): boolean {
  const { neededBy } = job.request;
  if (!rules.neededBy || neededBy === undefined || leadDays === undefined) return true;
  const day = 24 * 60 * 60 * 1000;
  return Date.parse(job.asOf) + leadDays * day <= Date.parse(neededBy);
}

function isHalved(offer: Offer, rules: Rules): boolean {
  return (
    !rules.wholePacks &&
    offer.form === 'pack' &&
    offer.packCount % 2 === 0 &&
    offer.minimumPacks === 1 &&
    offer.stepPacks === 1
  );
}

/** Amounts that are on sale, rising: multiples of the step from the minimum up to the stock. */
export function* counts(offer: Offer, rules: Rules): Generator<number> {
  const [minimum, step, stock] =
    offer.form === 'metre'
      ? [
          rules.metreMinimum ? offer.minimumMm : 1,
          rules.metreStep ? offer.stepMm : offer.stepMm / 2,
          offer.stockMm,
        ]
      : [
          ...(isHalved(offer, rules)
            ? ([0.5, 0.5] as const)
            : ([
                rules.minimumPacks ? offer.minimumPacks : 1,
                rules.stepPacks ? offer.stepPacks : 1,
              ] as const)),
          offer.stockPacks,
        ];
  const most = rules.stock ? (stock ?? Infinity) : Infinity;
  for (let count = Math.ceil(minimum / step) * step; count <= most; count += step) yield count;
}

/** Pieces in one pack or kit that serve a requirement. */
export function piecesFor(offer: Offer, requirement: Requirement): number {
  if (requirement.onlyOffer !== undefined && requirement.onlyOffer !== offer.code) return 0;
  if (offer.form === 'kit')
    return offer.contents
      .filter(({ part }) => requirement.accepts.has(part))
      .reduce((sum, { quantity }) => sum + quantity, 0);
  return offer.form === 'pack' && requirement.accepts.has(offer.part) ? offer.packCount : 0;
}

/**
 * Whether the offer can do something for the requirement; it may be bought with any order then, as buying more than is needed
 * is allowed. A length into which no piece fits is not bought, not even to reach a value.
 */
export function serves(offer: Offer, requirement: Requirement, rules: Rules): boolean {
  const { rolledUp } = requirement;
  if (rolledUp.kind !== 'length') return piecesFor(offer, requirement) > 0;
  if (requirement.onlyOffer !== undefined && requirement.onlyOffer !== offer.code) return false;
  if (offer.form === 'pack' || offer.form === 'kit' || !requirement.accepts.has(offer.part)) return false;
  const shortest = rolledUp.joinable ? 1 : Math.min(...rolledUp.pieces.map(({ mm }) => mm));
  if (offer.form === 'length') return usableMm(offer, rules) >= shortest;
  const stock = rules.stock ? (offer.stockMm ?? Infinity) : Infinity;
  return Math.floor(stock / offer.stepMm) * offer.stepMm >= shortest;
}
