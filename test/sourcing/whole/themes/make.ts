import type { Random } from '../../random.ts';
import type { OfferInput, SupplierInput } from '../jobOf.ts';

export type Currency = 'GBP' | 'EUR' | 'USD' | 'JPY' | 'KWD';
export const DECIMALS: Record<Currency, number> = { GBP: 2, EUR: 2, USD: 2, JPY: 0, KWD: 3 };

/** Minor units, to a hundredth at the finest, as an amount: 51.25 GBP → "0.5125". */
export function money(minor: number, currency: Currency): { amount: string; currency: string } {
  const places = DECIMALS[currency];
  const fine = Number.isInteger(minor) ? 0 : 2;
  const digits = String(Math.round(minor * 10 ** fine)).padStart(places + fine + 1, '0');
  const point = digits.length - places - fine;
  const fraction = digits.slice(point);
  return { amount: fraction === '' ? digits : `${digits.slice(0, point)}.${fraction}`, currency };
}

/** Minor units, often to a quarter. */
export const fine = (minor: number, random: Random) =>
  Math.max(1, Math.round(minor)) + random.pick([0, 0, 0.5, 0.25]);

export const sum = (list: readonly number[]) => list.reduce((total, each) => total + each, 0);

/** What offers of a theme are made of. `rules`: of how many of a hundred each rule of packs is stated. */
export interface Making {
  random: Random;
  currencyOf: (supplier: string) => Currency;
  suppliers: readonly string[];
  rules: number;
}

/** Rules of packs, lengths and kits, of which about so many are needed. Prices in minor units. */
function packRules(enough: number, price: number, currency: Currency, { random, rules }: Making) {
  const minimumPacks = random.percent(rules * 0.7) ? random.pick([2, 3]) : 1;
  const from = Math.max(minimumPacks + 1, enough + random.pick([-1, 0, 0, 1, 1, 2]));
  const cheaper = fine(price * random.pick([0.6, 0.7, 0.8, 0.9]), random);
  return {
    packPrice: money(price, currency),
    minimumPacks,
    stepPacks: random.percent(rules / 2) ? random.pick([2, 3]) : 1,
    ...(random.percent(rules) && { stockPacks: Math.max(0, enough + random.pick([-2, -1, -1, 0, 1])) }),
    ...(random.percent(rules) && { breaks: [{ fromPacks: from, packPrice: money(cheaper, currency) }] }),
  };
}

/** Pieces in packs for small needs. */
const FEW = [1, 1, 1, 2, 3, 5] as const;

/** Packs of a part of which so many are needed, about so dear a piece. */
export function packOf(
  code: string,
  part: string,
  { needed, piece, counts = FEW }: { needed: number; piece: number; counts?: readonly number[] },
  making: Making,
): OfferInput {
  const { random, suppliers, currencyOf } = making;
  const supplier = random.pick(suppliers);
  const packCount = random.pick(counts);
  const price = fine((piece * packCount * random.whole(70, 130)) / 100 / (1 + packCount / 20), random);
  return {
    form: 'pack',
    code,
    part,
    supplier,
    packCount,
    ...packRules(Math.ceil(needed / packCount), price, currencyOf(supplier), making),
  };
}

export function kitOf(
  code: string,
  contents: { part: string; quantity: number; piece: number }[],
  making: Making,
): OfferInput {
  const { random, suppliers, currencyOf } = making;
  const supplier = random.pick(suppliers);
  const price = fine(
    (sum(contents.map((one) => one.piece * one.quantity)) * random.whole(55, 105)) / 100,
    random,
  );
  return {
    form: 'kit',
    code,
    supplier,
    contents: contents.map(({ part, quantity }) => ({ part, quantity })),
    ...packRules(random.whole(1, 2), price, currencyOf(supplier), making),
  };
}

/** A fixed length of which one or a few give the pieces, about so dear a metre. */
export function lengthOf(
  code: string,
  part: string,
  { nominalMm, enough, metre }: { nominalMm: number; enough: number; metre: number },
  making: Making,
): OfferInput {
  const { random, suppliers, currencyOf } = making;
  const supplier = random.pick(suppliers);
  const price = fine((((metre * nominalMm) / 1000) * random.whole(60, 110)) / 100, random);
  return {
    form: 'length',
    code,
    part,
    supplier,
    nominalMm,
    ...packRules(enough, price, currencyOf(supplier), making),
  };
}

export function metreOf(
  code: string,
  part: string,
  { totalMm, metre }: { totalMm: number; metre: number },
  making: Making,
): OfferInput {
  const { random, suppliers, currencyOf, rules } = making;
  const supplier = random.pick(suppliers);
  const currency = currencyOf(supplier);
  const price = fine((metre * random.whole(80, 140)) / 100, random);
  const minimumMm = random.pick([500, 1000, 1000]);
  const fromMm = Math.max(minimumMm + 500, Math.ceil(totalMm / 1000) * 1000 + random.pick([0, 1000]));
  return {
    form: 'metre',
    code,
    part,
    supplier,
    pricePerMetre: money(price, currency),
    minimumMm,
    stepMm: random.pick([500, 1000]),
    ...(random.percent(rules) && {
      stockMm: Math.round((totalMm * random.pick([0.4, 0.7, 1, 1.3])) / 100) * 100,
    }),
    ...(random.percent(rules / 2) && {
      breaks: [{ fromMm, pricePerMetre: money(fine(price * random.pick([0.65, 0.8]), random), currency) }],
    }),
  };
}

/** What a supplier charges: postage by value that falls to nothing, a handling, a minimum order, each now and then. */
export function chargesOf(
  random: Random,
  currency: Currency,
  { often, level, value }: { often: number; level: number; value: number },
): Pick<SupplierInput, 'postage' | 'handling' | 'minimumOrder'> {
  const charge = Math.round((level * random.whole(60, 140)) / 100);
  const from = Math.round((value * random.whole(60, 140)) / 100);
  return {
    ...(random.percent(often) && {
      postage: {
        by: 'value' as const,
        bands: [
          { fromValue: money(0, currency), charge: money(charge, currency) },
          ...(random.percent(30)
            ? [
                {
                  fromValue: money(Math.ceil(from / 2), currency),
                  charge: money(Math.ceil(charge / 2), currency),
                },
              ]
            : []),
          {
            fromValue: money(from, currency),
            charge: money(random.percent(70) ? 0 : Math.ceil(charge / 4), currency),
          },
        ],
      },
    }),
    ...(random.percent(often / 2) && { handling: money(Math.ceil(charge / 2), currency) }),
    ...(random.percent(often / 2) && { minimumOrder: money(Math.max(1, from), currency) }),
  };
}
