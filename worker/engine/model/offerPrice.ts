import { D } from '../units/decimal.ts';
import { fraction, minus, over, roundOf, times, type Fraction } from '../units/fraction.ts';
import { exactFromMoney, MINOR_UNIT } from '../units/money.ts';
import { canonicalJson } from './canonical.ts';
import type { Price } from './money.ts';
import type { Offer } from './offer.ts';

/** What a price is told of: one piece, one metre, or a kit as a whole, since nobody knows what each of its parts costs. */
export const PRICE_UNITS = ['piece', 'metre', 'kit'] as const;
export type PriceUnit = (typeof PRICE_UNITS)[number];

type Packed = Exclude<Offer, { form: 'metre' }>;

/** The price of a pack, length or kit where so many are bought. */
export function packPriceAt(offer: Packed, packs: number): Price {
  return offer.breaks?.findLast(({ fromPacks }) => fromPacks <= packs)?.packPrice ?? offer.packPrice;
}

/** The price of a metre where so many millimetres are bought. */
export function metrePriceAt(offer: Extract<Offer, { form: 'metre' }>, lengthMm: number): Price {
  return offer.breaks?.findLast(({ fromMm }) => fromMm <= lengthMm)?.pricePerMetre ?? offer.pricePerMetre;
}

export function unitOf({ form }: Pick<Offer, 'form'>): PriceUnit {
  return form === 'pack' ? 'piece' : form === 'kit' ? 'kit' : 'metre';
}

/** What one unit costs, exact minor units of the offer's currency: at its own price, and at its last price break. */
export function unitPrices(offer: Offer): { first: Fraction; lowest: Fraction | undefined } {
  const each = (price: Price) => times(minorOf(price), unitsIn(offer));
  const last = offer.breaks?.at(-1);
  return {
    first: each(offer.form === 'metre' ? offer.pricePerMetre : offer.packPrice),
    lowest: last && each('packPrice' in last ? last.packPrice : last.pricePerMetre),
  };
}

function minorOf(price: Price): Fraction {
  return fraction(exactFromMoney(price), MINOR_UNIT);
}

/** One through the units of what is priced: a length is told by its nominal metres. */
function unitsIn(offer: Offer): Fraction {
  switch (offer.form) {
    case 'pack':
      return fraction(1n, BigInt(offer.packCount));
    case 'length':
      return fraction(1000n, BigInt(offer.nominalMm));
    case 'metre':
    case 'kit':
      return fraction(1n);
  }
}

/** Usable millimetres of one fixed length: nominal × (1 − tolerance) − end loss, down to whole millimetres. */
export function usableMm(offer: Extract<Offer, { form: 'length' }>): number {
  const least = new D(offer.nominalMm).mul(new D(100).sub(offer.tolerancePercent)).div(100);
  return Math.max(0, least.floor().toNumber() - offer.endLossMm);
}

/** Whether two states of an offer ask the same: all but when it was seen, and words about it. */
export function samePrice(a: Offer, b: Offer): boolean {
  return asked(a) === asked(b);
}

function asked({ seenOn: _, note: _note, link: _link, description: _words, ...rest }: Offer): string {
  return canonicalJson(rest);
}

/** By how many percent something became dearer, or with a minus cheaper, to a tenth: "12.5". Undefined where it was free. */
export function percentBetween(before: Fraction, after: Fraction): string | undefined {
  if (before.over === 0n) return undefined;
  const tenths = roundOf(times(over(minus(after, before), before), fraction(1000n)));
  const size = tenths < 0n ? -tenths : tenths;
  const digits = `${size / 10n}${size % 10n === 0n ? '' : `.${size % 10n}`}`;
  return tenths < 0n ? `-${digits}` : digits;
}

/** Exact minor units of so many of what a price is for, a length in millimetres of a price by the metre. */
export function costOf(price: Price, amount: { packs: number } | { lengthMm: number }): Fraction {
  return times(
    minorOf(price),
    'packs' in amount ? fraction(BigInt(amount.packs)) : fraction(BigInt(amount.lengthMm), 1000n),
  );
}
