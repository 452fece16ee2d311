import fc from 'fast-check';
import { BY_LENGTH, COUNTED, WIRE_PARTS } from './arbitraryCatalogue.ts';
import { maybe, money, stated as defined } from './arbitraryTerms.ts';

export const supplier = (code: string) =>
  fc
    .record({
      charge: fc.integer({ min: 0, max: 600 }),
      free: maybe(fc.integer({ min: 100, max: 3000 })),
      minimum: maybe(fc.integer({ min: 100, max: 1500 })),
      handling: maybe(fc.integer({ min: 1, max: 200 })),
      byWeight: fc.boolean(),
      currency: fc.constantFrom('GBP', 'GBP', 'EUR', 'JPY'),
      country: maybe(fc.constantFrom('GB', 'DE', 'JP')),
      pricesInclude: maybe(fc.constantFrom('noTax' as const, 'tax' as const, 'taxAndDuty' as const)),
      leadDays: maybe(fc.integer({ min: 0, max: 14 })),
    })
    .map(({ charge, free, minimum, handling, byWeight, currency, ...rest }) => {
      const own = (hundredths: number) => money(hundredths, currency);
      return {
        ...defined(rest),
        code,
        name: `Supplier ${code}`,
        currency,
        ...(minimum === undefined ? {} : { minimumOrder: own(minimum) }),
        ...(handling === undefined ? {} : { handling: own(handling) }),
        postage: byWeight
          ? {
              by: 'weight' as const,
              bands: [
                { fromG: 0, charge: own(charge) },
                { fromG: 20, charge: own(charge + 100) },
              ],
              ...(free === undefined ? {} : { freeFromValue: own(free) }),
            }
          : {
              by: 'value' as const,
              bands: [
                { fromValue: own(0), charge: own(charge) },
                ...(free === undefined ? [] : [{ fromValue: own(free), charge: own(0) }]),
              ],
            },
      };
    });

export const SUPPLIERS = ['s0', 's1', 's2'] as const;
/** Ten-thousandths of a unit; some things are free. */
const price = fc.oneof({ weight: 19, arbitrary: fc.integer({ min: 1, max: 40_000 }) }, fc.constant(0));
const COUNTED_BESIDE = ['ring-b', 'bullet-b', 'seal-b', 'seal-c', 'press', 'press-all'] as const;
const LENGTHS_BESIDE = ['braid-b', 'spool-b', 'red-old'] as const;
export const SOLD_BY_COUNT: readonly string[] = [...COUNTED, ...COUNTED_BESIDE];
export const LENGTHS = [...BY_LENGTH, ...LENGTHS_BESIDE, 'twin', ...WIRE_PARTS.map(({ code }) => code)];

/** A price in a currency: of yen a hundred and more. */
function priced(tenThousandths: number, currency: string) {
  return currency === 'JPY'
    ? { amount: (tenThousandths / 50).toFixed(2), currency }
    : { amount: (tenThousandths / 10_000).toFixed(4), currency };
}

export const offers = fc
  .array(
    fc.record({
      supplier: fc.constantFrom(...SUPPLIERS),
      part: fc.oneof(
        { weight: 2, arbitrary: fc.constantFrom(...COUNTED) },
        { weight: 2, arbitrary: fc.constantFrom(...COUNTED_BESIDE) },
        { weight: 2, arbitrary: fc.constantFrom(...LENGTHS) },
      ),
      kitWith: fc.subarray([...COUNTED, ...COUNTED_BESIDE], { minLength: 1, maxLength: 2 }),
      leadDays: maybe(fc.integer({ min: 0, max: 12 })),
      foreign: fc.constantFrom(...Array<boolean>(15).fill(false), true),
      kit: fc.constantFrom(false, false, false, true),
      length: fc.boolean(),
      breakAt: maybe(fc.integer({ min: 1, max: 6 })),
      step: fc.constantFrom(1, 1, 2),
      stock: maybe(fc.integer({ min: 0, max: 12 })),
      condition: fc.constantFrom('new' as const, 'new' as const, 'oldStock' as const, 'used' as const),
      price,
      size: fc.constantFrom(1, 5, 10, 25),
      minimum: fc.integer({ min: 1, max: 3 }),
    }),
    { minLength: 3, maxLength: 24, size: 'max' },
  )
  .map(
    (list) => (currencies: ReadonlyMap<string, string>) =>
      list.map(
        (
          {
            supplier: from,
            part,
            price: amount,
            size,
            minimum,
            kit,
            length,
            breakAt,
            step,
            stock,
            condition,
            kitWith,
            leadDays,
            foreign,
          },
          index,
        ) => {
          const common = defined({ code: `o${index}`, supplier: from, condition, leadDays });
          const currency = foreign ? 'USD' : (currencies.get(from) ?? 'GBP');
          const each = priced(amount, currency);
          const cheaper = priced(Math.floor(amount * 0.8), currency);
          const packed = {
            packPrice: each,
            minimumPacks: minimum,
            stepPacks: step,
            ...(stock === undefined ? {} : { stockPacks: stock }),
            ...(breakAt === undefined
              ? {}
              : { breaks: [{ fromPacks: minimum + breakAt, packPrice: cheaper }] }),
          };
          if (kit)
            return {
              ...common,
              ...packed,
              form: 'kit' as const,
              contents: [
                { part, quantity: size },
                ...kitWith
                  .filter((other) => other !== part)
                  .map((other) => ({ part: other, quantity: minimum })),
              ],
            };
          if (SOLD_BY_COUNT.includes(part))
            return { ...common, ...packed, part, form: 'pack' as const, packCount: size };
          if (length)
            return {
              ...common,
              ...packed,
              part,
              form: 'length' as const,
              nominalMm: size * 500,
              tolerancePercent: 2,
              endLossMm: 10,
            };
          return {
            ...common,
            part,
            form: 'metre' as const,
            pricePerMetre: each,
            stepMm: size * 100,
            minimumMm: minimum * 500,
            ...(stock === undefined ? {} : { stockMm: stock * 2000 }),
            ...(breakAt === undefined
              ? {}
              : { breaks: [{ fromMm: minimum * 500 + breakAt * 1000, pricePerMetre: cheaper }] }),
          };
        },
      ),
  );
