import { offerCurrency, type Offer } from '../model/offer.ts';
import type { OfferPrices } from '../model/winningPrice.ts';
import { exactFromMoney, exactToAmount, PRICE_STEP, type Exact } from '../units/money.ts';

/** The price that an offer starts with: of a pack, kit or length, or of a metre. In its own currency. */
export function firstPrice(offer: Offer): Exact {
  return exactFromMoney(offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice);
}

/**
 * The offer with another first price; its breaks in the same proportion, down to what a price may carry. Breaks of an
 * offer whose first price is nothing stay.
 */
export function offerAt(offer: Offer, first: Exact): Offer {
  const before = firstPrice(offer);
  const currency = offerCurrency(offer);
  const priced = (price: Exact) => ({ amount: exactToAmount(price, currency), currency });
  const scaled = (price: { amount: string; currency: string }) =>
    before === 0n ? price : priced(down((exactFromMoney(price) * first) / before));
  if (offer.form === 'metre')
    return {
      ...offer,
      pricePerMetre: priced(first),
      ...(offer.breaks
        ? { breaks: offer.breaks.map((at) => ({ ...at, pricePerMetre: scaled(at.pricePerMetre) })) }
        : {}),
    };
  return {
    ...offer,
    packPrice: priced(first),
    ...(offer.breaks
      ? { breaks: offer.breaks.map((at) => ({ ...at, packPrice: scaled(at.packPrice) })) }
      : {}),
  };
}

const down = (price: Exact) => price - (price % PRICE_STEP);

/** All prices of an offer, for the answer. */
export function pricesOf(offer: Offer): OfferPrices {
  return offer.form === 'metre'
    ? {
        first: offer.pricePerMetre,
        breaks: (offer.breaks ?? []).map(({ fromMm, pricePerMetre }) => ({ fromMm, price: pricePerMetre })),
      }
    : {
        first: offer.packPrice,
        breaks: (offer.breaks ?? []).map(({ fromPacks, packPrice }) => ({ fromPacks, price: packPrice })),
      };
}
