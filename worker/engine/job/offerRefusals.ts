import type { Job } from '../model/job.ts';
import { offerCurrency, type Offer } from '../model/offer.ts';
import type { SettingValues } from '../model/settings.ts';
import type { Supplier } from '../model/supplier.ts';
import { dayNumber } from '../units/day.ts';
import type { Refusal } from './refusal.ts';

/** Priced in another currency than its supplier’s. */
export function currencyRefusal(offer: Offer, supplier: Supplier): Refusal | undefined {
  const currency = offerCurrency(offer);
  if (currency === supplier.currency) return undefined;
  return {
    code: 'offer-in-other-currency',
    severity: 'warning',
    field: [offer.form === 'metre' ? 'pricePerMetre' : 'packPrice', 'currency'],
    found: `priced in ${currency}`,
    limit: `the currency of its supplier ${supplier.code}, ${supplier.currency}`,
    todo: `The offer is not used. Enter its price in ${supplier.currency}; or, where ${supplier.code} sells in ${currency}, change the currency of that supplier.`,
  };
}

/** In a condition that is not accepted. */
export function conditionRefusal(
  offer: Offer,
  accepted: SettingValues['conditionsAccepted'],
): Refusal | undefined {
  if (accepted.includes(offer.condition)) return undefined;
  return {
    code: 'condition-not-accepted',
    severity: 'note',
    field: ['condition'],
    found: `condition ${offer.condition}`,
    limit: accepted.join(', '),
    todo: 'The offer is not used. To use it, add its condition to the setting conditionsAccepted.',
  };
}

/** Of which there is less than the least order. */
export function stockRefusal(offer: Offer): Refusal | undefined {
  const stock = offer.form === 'metre' ? offer.stockMm : offer.stockPacks;
  const minimum = offer.form === 'metre' ? offer.minimumMm : offer.minimumPacks;
  const step = offer.form === 'metre' ? offer.stepMm : offer.stepPacks;
  if (stock === undefined || Math.floor(stock / step) * step >= Math.ceil(minimum / step) * step)
    return undefined;
  return {
    code: stock === 0 ? 'out-of-stock' : 'stock-below-minimum',
    severity: 'note',
    field: [offer.form === 'metre' ? 'stockMm' : 'stockPacks'],
    found: stock === 0 ? 'none in stock' : `${stock} in stock, less than the smallest order`,
    todo: 'The offer is not used. Change its stock when the supplier has some again.',
  };
}

/** How many days from the quote's day the goods may take; undefined: any. */
export function lastDayOf({ request, asOf }: Job): number | undefined {
  return request.neededBy === undefined ? undefined : dayNumber(request.neededBy) - dayNumber(asOf);
}

/** There after the day by which it is needed. */
export function lateRefusal(
  job: Job,
  offer: Offer,
  supplier: Supplier,
  lastDay: number | undefined,
): Refusal | undefined {
  const days = leadDaysOf(offer, supplier);
  if (lastDay === undefined || days === undefined || days <= lastDay) return undefined;
  return {
    code: 'arrives-too-late',
    severity: 'note',
    field: offer.leadDays === undefined ? ['supplier'] : ['leadDays'],
    found: `it takes ${days} ${days === 1 ? 'day' : 'days'}, too long`,
    limit: `${lastDay} from ${job.asOf} to ${job.request.neededBy ?? ''}`,
    todo: 'The offer is not used. Ask for a later day, or correct the lead days.',
  };
}

/** Days from order to arrival: the offer's, else its supplier's. */
export function leadDaysOf(offer: Offer, supplier: Supplier): number | undefined {
  return offer.leadDays ?? supplier.leadDays;
}
