import type { Random } from '../random.ts';
import type { SupplierInput, Terms } from '../whole/jobOf.ts';
import { chargesOf, money, type Currency } from '../whole/themes/make.ts';
import type { RulesOn } from './rules.ts';

type LaneInput = NonNullable<Terms['lanes']>[number];

/** The first two sell at home; the last two abroad, where there is an abroad. */
export const SHOPS = ['ash', 'birch', 'cedar', 'elm', 'fir', 'hazel'] as const;

/** Where a shop sends from, and what it is paid in. */
export interface Seat {
  country: string;
  currency: Currency;
}

export function seatsOf(random: Random, shops: readonly string[], on: RulesOn): ReadonlyMap<string, Seat> {
  return new Map(
    shops.map((shop, index) => {
      const abroad = on.abroad && index >= shops.length - 2;
      const country = abroad ? (index % 2 === 0 ? 'FR' : 'DE') : 'GB';
      const foreign = on.currencies && index >= shops.length - 3;
      return [shop, { country, currency: foreign ? random.pick(['EUR', 'EUR', 'USD', 'JPY']) : 'GBP' }];
    }),
  );
}

/** What each shop charges. Ash, that sells all that is needed, can deliver by any day. */
export function sellersOf(random: Random, seats: ReadonlyMap<string, Seat>, on: RulesOn): SupplierInput[] {
  return [...seats].map(([code, { country, currency }]): SupplierInput => {
    const { postage, handling, minimumOrder } = chargesOf(random, currency, {
      often: 90,
      level: 400,
      value: 3500,
    });
    const byWeight = on.postageByWeight && random.percent(50);
    return {
      code,
      name: code,
      currency,
      country,
      ...(on.postage && postage && { postage }),
      ...(byWeight && { postage: postageByWeight(random, currency) }),
      ...(on.handling && handling && { handling }),
      ...(on.minimumOrders && minimumOrder && { minimumOrder }),
      ...((on.tax || country !== 'GB') && {
        pricesInclude: random.pick(
          country === 'GB' ? (['noTax', 'tax'] as const) : (['noTax', 'tax', 'taxAndDuty'] as const),
        ),
      }),
      ...(on.dates && { leadDays: code === 'ash' ? 2 : random.pick([2, 4, 9, 21]) }),
    };
  });
}

function postageByWeight(random: Random, currency: Currency): NonNullable<SupplierInput['postage']> {
  const charge = random.whole(200, 500);
  const first = random.pick([250, 500, 750]);
  return {
    by: 'weight',
    bands: [
      { fromG: 0, charge: money(charge, currency) },
      { fromG: first, charge: money(Math.round(charge * random.pick([0.8, 1.5, 2])), currency) },
      { fromG: 2 * first, charge: money(charge * 3, currency) },
    ],
    ...(random.percent(60) && { freeFromValue: money(random.whole(2500, 8000), currency) }),
  };
}

/** The tax at home, and duty, tax and fees from abroad, with thresholds about the value of a parcel. */
export function lanesOf(random: Random, on: RulesOn): LaneInput[] {
  return [
    ...(on.tax ? [{ code: 'home', from: 'GB', to: 'GB', taxPercent: 20 }] : []),
    ...(on.abroad ? ['FR', 'DE'] : []).map((from): LaneInput => {
      const value = () => money(random.whole(1500, 6000), 'GBP');
      return {
        code: `from-${from}`,
        from,
        to: 'GB',
        taxPercent: random.pick([0, 20, 20, 7.7]),
        dutyPercent: random.pick([0, 2, 3.7, 10]),
        dutyOn: random.pick(['goods', 'goodsAndPostage'] as const),
        valueIs: random.pick(['goods', 'goodsAndPostage'] as const),
        exactlyThere: random.pick(['free', 'charged'] as const),
        sellerTaxPercent: random.pick([0, 19, 20]),
        ...(random.percent(60) && { dutyOverValue: value() }),
        ...(random.percent(70) && { taxOverValue: value() }),
        ...(random.percent(60) && { clearanceFee: money(random.whole(200, 1200), 'GBP') }),
        ...(random.percent(60) && { clearanceOverValue: value() }),
      };
    }),
  ];
}

export function ratesOf(random: Random, seats: ReadonlyMap<string, Seat>): NonNullable<Terms['rates']> {
  const currencies = new Set([...seats.values()].map(({ currency }) => currency));
  const rates: Partial<Record<Currency, string[]>> = {
    EUR: ['0.85', '0.8512', '0.86123456'],
    USD: ['0.75', '0.7533'],
    // So that a yen is worth about a penny, as prices are drawn alike for all currencies.
    JPY: ['0.0095', '0.00951234'],
  };
  return [...currencies].flatMap((currency) => {
    const known = rates[currency];
    return known ? [{ code: `rate-${currency}`, currency, on: '2026-11-20', rate: random.pick(known) }] : [];
  });
}
