import { z } from 'zod';
import { times } from '../units/fraction.ts';
import { minorToPrice } from '../units/money.ts';
import { Code, Day } from './code.ts';
import { exchangeOf } from './exchange.ts';
import { addTo } from './group.ts';
import { Currency, MoneyOut } from './money.ts';
import { offerCurrency, offerParts } from './offer.ts';
import { PRICE_UNITS, unitOf, unitPrices } from './offerPrice.ts';
import { inTime, type KeptPrice } from './priceHistory.ts';
import type { Rate } from './rate.ts';

const PriceInClub = z
  .strictObject({
    from: Day,
    price: MoneyOut,
    rate: z.string().optional().meta({
      description: 'The rate of exchange that is used. Absent for the club’s own currency.',
      example: '0.8512',
    }),
    rateOn: Day.optional().meta({ description: 'The day of that rate.' }),
  })
  .meta({ id: 'PriceInClub' });

const CoursePrice = z
  .strictObject({
    from: Day.meta({ description: 'The day from which this price is known.' }),
    until: Day.optional().meta({
      description: 'The day on which another price takes its place, or on which the offer was removed.',
    }),
    lastSeen: Day,
    seen: z.boolean().meta({
      description: 'false: nobody said when it was seen, and the day is the one on which it was put in.',
    }),
    removed: z.boolean().meta({ description: 'true: the offer was removed at its end.' }),
    unit: z.enum(PRICE_UNITS).meta({
      description: 'What the price is for: one piece, one metre, or a kit as a whole.',
    }),
    price: MoneyOut.meta({
      description: 'At the smallest quantity. Rounded to 4 decimals of the minor unit.',
    }),
    lowest: MoneyOut.optional().meta({ description: 'At the last price break, if there are any.' }),
    inClub: z.array(PriceInClub).meta({
      description:
        'The same in the club’s currency, from each day on which that changed with the rate. Empty where no rate is stored.',
    }),
    putInAt: z.iso.datetime().optional(),
    putInBy: z.string().optional().meta({ description: 'Who put it in. Absent where that is not known.' }),
  })
  .meta({ id: 'CoursePrice' });
export type CoursePrice = z.infer<typeof CoursePrice>;

const CourseOffer = z
  .strictObject({
    offer: Code,
    supplier: Code,
    supplierName: z.string(),
    currency: Currency,
    prices: z.array(CoursePrice).meta({ description: 'In order of time.' }),
  })
  .meta({
    id: 'CourseOffer',
    description:
      'An offer with all its prices; one that changed its supplier or its currency stands here for each.',
  });
export type CourseOffer = z.infer<typeof CourseOffer>;

export const PriceCourse = z
  .strictObject({
    part: Code,
    description: z.string(),
    currency: Currency.meta({ description: 'The club’s.' }),
    today: Day,
    offers: z.array(CourseOffer).meta({ description: 'By code. Removed offers are among them.' }),
    withoutRate: z.array(z.strictObject({ currency: Currency, todo: z.string() })).meta({
      description: 'Currencies of which some days have no rate, so that prices stand only in their own.',
    }),
  })
  .meta({ id: 'PriceCourse' });
export type PriceCourse = z.infer<typeof PriceCourse>;

export interface CourseAsked {
  part: { code: string; description: string };
  /** The club’s. */
  currency: string;
  today: string;
  rates: readonly Rate[];
  /** All prices of each offer, whatever it sold. */
  histories: readonly (readonly KeptPrice[])[];
  supplierName: (code: string) => string;
}

/** The prices of a part at all its suppliers, in their own currency and in the club’s at the rates of those days. */
export function priceCourse(asked: CourseAsked): PriceCourse {
  const { part, currency, today } = asked;
  const offers = asked.histories.flatMap((history) => courseOffers(asked, history));
  const lacking = new Set(
    offers.flatMap((offer) => (offer.prices.some((price) => lacksRate(price)) ? [offer.currency] : [])),
  );
  return {
    part: part.code,
    description: part.description,
    currency,
    today,
    offers,
    withoutRate: [...lacking].sort().map((each) => ({
      currency: each,
      todo: `Some prices in ${each} have no rate of their day, and stand only in ${each}. Add a rate of ${each} for the first of these days, or for a day before.`,
    })),
  };
}

const lacksRate = ({ from, inClub }: CoursePrice) => inClub[0]?.from !== from;

function courseOffers(asked: CourseAsked, history: readonly KeptPrice[]): CourseOffer[] {
  const all = inTime(history);
  const found = new Map<string, CourseOffer>();
  for (const [at, kept] of all.entries()) {
    const { body } = kept;
    if (!offerParts(body).some(({ part }) => part === asked.part.code)) continue;
    const own = offerCurrency(body);
    const key = `${body.supplier} ${own}`;
    const of = found.get(key) ?? {
      offer: body.code,
      supplier: body.supplier,
      supplierName: asked.supplierName(body.supplier),
      currency: own,
      prices: [],
    };
    found.set(key, of);
    of.prices.push(coursePrice(asked, kept, all[at + 1]?.first));
  }
  return [...found.values()];
}

function coursePrice(asked: CourseAsked, kept: KeptPrice, nextFirst: string | undefined): CoursePrice {
  const { body, first, last, seen, goneOn, putIn } = kept;
  const own = offerCurrency(body);
  const { first: price, lowest } = unitPrices(body);
  const removed = goneOn !== undefined && (nextFirst === undefined || goneOn <= nextFirst);
  const until = removed ? goneOn : nextFirst;
  return {
    from: first,
    ...(until === undefined ? {} : { until }),
    lastSeen: last,
    seen,
    removed,
    unit: unitOf(body),
    price: { amount: minorToPrice(price, own), currency: own },
    ...(lowest ? { lowest: { amount: minorToPrice(lowest, own), currency: own } } : {}),
    inClub: inClub(asked, own, price, { from: first, until }),
    ...(putIn ? { putInAt: putIn.at.toISOString() } : {}),
    ...(typeof putIn?.by === 'string' ? { putInBy: putIn.by } : {}),
  };
}

/** A price in the club's currency from its first day on, and from the day of each further rate until it ends. */
function inClub(
  { currency, rates, today }: CourseAsked,
  own: string,
  price: ReturnType<typeof unitPrices>['first'],
  { from, until }: { from: string; until: string | undefined },
): CoursePrice['inClub'] {
  const theirs = rates.filter((rate) => rate.currency === own);
  const changes = theirs
    .map(({ on }) => on)
    .filter((on) => on > from && on <= today && (until === undefined || on < until));
  return [from, ...changes.sort()].flatMap((day) => {
    const exchange = exchangeOf({ club: { currency }, rates: theirs, asOf: day });
    const toClub = exchange.toClub(own);
    const rate = exchange.rateOf(own);
    if (!toClub) return [];
    const amount = minorToPrice(times(price, toClub), currency);
    return [
      {
        from: day,
        price: { amount, currency },
        ...(rate && own !== currency ? { rate: rate.rate, rateOn: rate.on } : {}),
      },
    ];
  });
}

/** What is drawn together: prices for one unit, in one currency. */
export interface CourseLines {
  unit: CoursePrice['unit'];
  currency: string;
  lines: { offer: CourseOffer; steps: CourseStep[] }[];
}

export interface CourseStep {
  from: string;
  until: string | undefined;
  lastSeen: string;
  amount: string;
}

/** The course as steps, first in the club’s currency, then in each other one; prices of a day that another took over are left out. */
export function courseLines({ offers, currency }: PriceCourse): CourseLines[] {
  const found = new Map<string, CourseOffer[]>();
  for (const offer of offers)
    for (const unit of new Set(offer.prices.map((price) => price.unit)))
      for (const each of new Set([currency, offer.currency])) addTo(found, `${unit} ${each}`, offer);
  const rank = (each: string) => (each === currency ? '' : each);
  return [...found]
    .map(([key, own]): CourseLines => {
      const [unit = 'piece', each = ''] = key.split(' ') as [CoursePrice['unit'], string];
      const lines = own.map((offer) => ({ offer, steps: stepsOf(offer, unit, each, currency) }));
      return { unit, currency: each, lines: lines.filter(({ steps }) => steps.length > 0) };
    })
    .filter(({ lines }) => lines.length > 0)
    .sort(
      (a, b) =>
        PRICE_UNITS.indexOf(a.unit) - PRICE_UNITS.indexOf(b.unit) ||
        (rank(a.currency) < rank(b.currency) ? -1 : 1),
    );
}

function stepsOf(
  offer: CourseOffer,
  unit: CoursePrice['unit'],
  currency: string,
  club: string,
): CourseStep[] {
  return offer.prices.flatMap(({ unit: own, from, until, lastSeen, price, inClub: converted }) => {
    if (own !== unit || from === until) return [];
    const pieces =
      currency === club
        ? converted.map((each) => ({ from: each.from, amount: each.price.amount }))
        : [{ from, amount: price.amount }];
    return pieces.map((piece, at) => ({ ...piece, until: pieces[at + 1]?.from ?? until, lastSeen }));
  });
}
