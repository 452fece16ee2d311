import { currencyExponent } from '../units/currency.ts';
import { D } from '../units/decimal.ts';
import { fraction, fractionOf, over, roundOf, times, type Fraction } from '../units/fraction.ts';
import { PRICE_DECIMALS } from '../units/money.ts';
import type { Bought } from './bought.ts';
import type { Price } from './money.ts';
import { Offer } from './offer.ts';
import { withTax } from './orderCost.ts';

export interface Paid {
  bought: Bought;
  /** How much came: packs, kits or lengths, or millimetres. */
  came: number;
  /** What was charged for it; undefined: the price of the order list. */
  paid: Price | undefined;
  /** The day on which it came. */
  day: string;
  /** The tax that is taken off the supplier’s prices, percent. */
  takenOff: number | undefined;
}

/**
 * An offer with the price that was charged, seen on the day on which it came: of its price breaks the one by which it was
 * ordered. A price has as many decimals as an offer takes, the nearest. A text: why the offer cannot have it.
 */
export function withPaidPrice(offer: Offer, { bought, came, paid, day, takenOff }: Paid): Offer | string {
  if (!isSold(offer, bought)) return 'the offer sells another pack, length or kit now';
  if (offer.seenOn !== undefined && offer.seenOn > day) return `its price was seen later, on ${offer.seenOn}`;
  if (paid === undefined) return { ...offer, seenOn: day };
  if (came === 0) return 'nothing of the line came, so there is no price of it';
  const units = bought.form === 'metre' ? fraction(BigInt(came), 1000n) : fraction(BigInt(came));
  const price = priceOf(times(over(fractionOf(paid.amount), units), withTax(takenOff)), paid.currency);
  const changed = Offer.safeParse({ ...priced(offer, bought, price), seenOn: day });
  return changed.success
    ? changed.data
    : `with ${price.amount} it would not fit its other prices: ${changed.error.issues[0]?.message ?? ''}`;
}

function isSold(offer: Offer, bought: Bought): boolean {
  if (offer.form === 'pack') return bought.form === 'pack' && bought.packCount === offer.packCount;
  if (offer.form === 'length') return bought.form === 'length' && bought.nominalMm === offer.nominalMm;
  return offer.form === bought.form;
}

function priceOf(amount: Fraction, currency: string): Price {
  const decimals = (currencyExponent(currency) ?? 0) + PRICE_DECIMALS;
  const scaled = roundOf(times(amount, fraction(10n ** BigInt(decimals))));
  const exact = new D(scaled.toString()).div(new D(10).pow(decimals));
  return {
    amount: exact.toFixed(Math.max(currencyExponent(currency) ?? 0, exact.decimalPlaces())),
    currency,
  };
}

function priced(offer: Offer, bought: Bought, price: Price): object {
  if (offer.form === 'metre' && bought.form === 'metre') {
    const at = offer.breaks?.findLastIndex(({ fromMm }) => fromMm <= bought.lengthMm) ?? -1;
    if (at < 0) return { ...offer, pricePerMetre: price };
    return {
      ...offer,
      breaks: offer.breaks?.map((each, index) => (index === at ? { ...each, pricePerMetre: price } : each)),
    };
  }
  if (offer.form === 'metre' || bought.form === 'metre') return offer;
  const at = offer.breaks?.findLastIndex(({ fromPacks }) => fromPacks <= bought.packs) ?? -1;
  if (at < 0) return { ...offer, packPrice: price };
  return {
    ...offer,
    breaks: offer.breaks?.map((each, index) => (index === at ? { ...each, packPrice: price } : each)),
  };
}
