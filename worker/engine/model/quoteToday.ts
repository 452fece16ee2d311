import { z } from 'zod';
import {
  compareFractions,
  fractionOf,
  over,
  plus,
  roundOf,
  times,
  fraction,
  NOTHING,
  type Fraction,
} from '../units/fraction.ts';
import { currencyExponent } from '../units/currency.ts';
import { minorToAmount } from '../units/money.ts';
import { Bought } from './bought.ts';
import { canonicalJson } from './canonical.ts';
import { byCode } from './code.ts';
import { Code, Day } from './code.ts';
import { exchangeOf, type Exchange } from './exchange.ts';
import { Currency, MoneyOut, type Price } from './money.ts';
import { offerParts, type Offer } from './offer.ts';
import { costOf, metrePriceAt, packPriceAt, percentBetween, usableMm } from './offerPrice.ts';
import type { Rate } from './rate.ts';
import type { Purchase, Result } from './result.ts';

const percent = z
  .string()
  .regex(/^-?\d+(\.\d)?$/)
  .optional()
  .meta({ description: 'By how many percent it is dearer; with a minus: cheaper.', example: '12.5' });

const TodayLine = z
  .strictObject({
    offer: Code,
    supplier: Code,
    part: Code,
    wave: z.int().optional().meta({ description: 'The number of the order, if there are several.' }),
    state: z.enum(['same', 'dearer', 'cheaper', 'notCompared']),
    bought: Bought.meta({ description: 'What the quote buys.' }),
    boughtToday: Bought.optional().meta({
      description:
        'What gives at least as much today, where the pack, the step or the minimum is another now.',
    }),
    then: MoneyOut,
    today: MoneyOut.optional(),
    percent,
    seenOn: Day.optional().meta({ description: 'When today’s price was seen.' }),
    why: z.string().optional().meta({ description: 'Why it cannot be compared.' }),
  })
  .meta({ id: 'QuoteTodayLine' });
type TodayLine = z.infer<typeof TodayLine>;

export const QuoteToday = z
  .strictObject({
    quote: z.uuid(),
    asOf: Day.meta({ description: 'The day of the quote.' }),
    today: Day,
    currency: Currency,
    covers: z.literal('goods').meta({
      description:
        'Only goods are compared: no postage, handling, tax or duty. For these ask for a new quote.',
    }),
    lines: z.array(TodayLine).meta({ description: 'In the order of the quote’s purchases.' }),
    compared: z
      .strictObject({
        lines: z.int(),
        then: MoneyOut,
        today: MoneyOut,
        difference: MoneyOut.meta({ description: 'Today less then.' }),
        percent,
      })
      .meta({ description: 'The sum of the goods that can be compared.' }),
    notCompared: z.strictObject({ lines: z.int(), then: MoneyOut }),
    rates: z
      .array(
        z.strictObject({
          currency: Currency,
          then: z.string().meta({ example: '0.8512' }),
          thenOn: Day,
          today: z.string().optional().meta({ description: 'Absent where no rate is stored.' }),
          todayOn: Day.optional(),
        }),
      )
      .meta({ description: 'The rates of exchange then and today.' }),
  })
  .meta({ id: 'QuoteToday' });
export type QuoteToday = z.infer<typeof QuoteToday>;

interface Asked {
  quote: string;
  result: Pick<Result, 'currency' | 'asOf' | 'purchases' | 'orderLists'>;
  /** As they stand today, those that are still there. */
  offers: ReadonlyMap<string, Offer>;
  rates: readonly Rate[];
  today: string;
}

/** The goods that a quote buys, at the prices at which their offers stand today, against those of the quote. */
export function quoteToday({ quote, result, offers, rates, today }: Asked): QuoteToday {
  const { currency, asOf, orderLists } = result;
  const club = { currency };
  const theirs = orderLists.flatMap((list) => (list.theirs ? [list.theirs] : []));
  const stored = theirs.map(({ currency, rate, on }): Rate => ({ code: 'then', currency, rate, on }));
  const exchanges = {
    then: exchangeOf({ club, rates: stored, asOf: '9999-12-31' }),
    now: exchangeOf({ club, rates, asOf: today }),
  };
  const money = (minor: Fraction) => ({ amount: minorToAmount(roundOf(minor), currency), currency });
  const exponent = BigInt(currencyExponent(currency) ?? 0);
  const minorOf = ({ amount }: { amount: string }) => times(fractionOf(amount), fraction(10n ** exponent));
  const lines = result.purchases.map((purchase) => {
    const { offer, supplier, part, wave, bought, cost } = purchase;
    const found = lineToday(purchase, minorOf(purchase.exactCost), offers.get(offer), exchanges, today);
    const head = { offer, supplier, part, ...(wave === undefined ? {} : { wave }) };
    if ('why' in found)
      return { line: { ...head, state: 'notCompared' as const, bought, then: cost, why: found.why } };
    const printed = money(found.now);
    const line: TodayLine = {
      ...head,
      state:
        (['cheaper', 'same', 'dearer'] as const)[
          compareFractions(found.now, minorOf(purchase.exactCost)) + 1
        ] ?? 'same',
      bought,
      ...(found.changed ? { boughtToday: found.bought } : {}),
      then: cost,
      today: printed,
      ...percentOf(minorOf(purchase.exactCost), found.now),
      ...(found.seenOn === undefined ? {} : { seenOn: found.seenOn }),
    };
    return { line, printed };
  });
  const compared = lines.flatMap(({ line, printed }) => (printed ? [{ then: line.then, printed }] : []));
  const rest = lines.flatMap(({ line, printed }) => (printed ? [] : [line.then]));
  const sum = (amounts: readonly { amount: string }[]) =>
    amounts.reduce((all, amount) => plus(all, minorOf(amount)), NOTHING);
  const [then, now] = [sum(compared.map((each) => each.then)), sum(compared.map(({ printed }) => printed))];
  return {
    quote,
    asOf,
    today,
    currency,
    covers: 'goods',
    lines: lines.map(({ line }) => line),
    compared: {
      lines: compared.length,
      then: money(then),
      today: money(now),
      difference: money(plus(now, times(then, fraction(-1n)))),
      ...percentOf(then, now),
    },
    notCompared: { lines: rest.length, then: money(sum(rest)) },
    rates: ratesOf(theirs, exchanges.now),
  };
}

function percentOf(before: Fraction, after: Fraction): { percent?: string } {
  const found = percentBetween(before, after);
  return found === undefined ? {} : { percent: found };
}

function ratesOf(
  theirs: readonly { currency: string; rate: string; on: string }[],
  now: Exchange,
): QuoteToday['rates'] {
  const byCurrency = new Map(theirs.map((each) => [each.currency, each]));
  return [...byCurrency.values()].map(({ currency, rate, on }) => {
    const today = now.rateOf(currency);
    return {
      currency,
      then: rate,
      thenOn: on,
      ...(today ? { today: today.rate, todayOn: today.on } : {}),
    };
  });
}

type Found =
  { now: Fraction; bought: Bought; changed: boolean; seenOn: string | undefined } | { why: string };

/** What a purchase costs today, in minor units of the club's currency; else why nobody can say. */
function lineToday(
  purchase: Purchase,
  thenInClub: Fraction,
  offer: Offer | undefined,
  { then, now }: { then: Exchange; now: Exchange },
  today: string,
): Found {
  const { bought, supplier, part } = purchase;
  if (!offer) return { why: `The offer ${purchase.offer} is gone.` };
  if (offer.supplier !== supplier) return { why: `Another supplier has this offer now: ${offer.supplier}.` };
  if (!offerParts(offer).some((sold) => sold.part === part)) return { why: `It no longer sells ${part}.` };
  const amount = amountToday(bought, offer);
  if ('why' in amount) return amount;
  const priceThen = priceIn(bought);
  const priceNow = priceIn(amount.bought);
  const rateThen = then.toClub(priceThen.currency);
  const rateNow = now.toClub(priceNow.currency);
  if (!rateThen) return { why: `The quote does not say which rate it used for ${priceThen.currency}.` };
  if (!rateNow)
    return {
      why: `No rate of ${priceNow.currency} is stored for ${today} or a day before. Add one.`,
    };
  const stated = times(costOf(priceThen, bought), rateThen);
  // What was taken off for export then is taken off today too.
  const kept = stated.over === 0n ? fraction(1n) : over(thenInClub, stated);
  return {
    now: times(times(costOf(priceNow, amount.bought), rateNow), kept),
    bought: amount.bought,
    changed: amount.changed,
    seenOn: offer.seenOn,
  };
}

const priceIn = (bought: Bought): Price =>
  bought.form === 'metre' ? bought.pricePerMetre : bought.packPrice;

/** What gives at least as much of the offer as it stands today. */
function amountToday(bought: Bought, offer: Offer): { bought: Bought; changed: boolean } | { why: string } {
  if (bought.form === 'metre' && offer.form === 'metre') {
    const lengthMm = upTo(bought.lengthMm, { least: offer.minimumMm, step: offer.stepMm });
    if (offer.stockMm !== undefined && offer.stockMm < lengthMm) return SHORT;
    const pricePerMetre = metrePriceAt(offer, lengthMm);
    return { bought: { form: 'metre', lengthMm, pricePerMetre }, changed: lengthMm !== bought.lengthMm };
  }
  if (bought.form === 'metre' || offer.form === 'metre' || bought.form !== offer.form) return SOLD_OTHERWISE;
  const isPack = bought.form === 'pack' && offer.form === 'pack';
  if (!isPack && holds(bought) !== holds(offer)) return HOLDS_OTHER;
  const wanted = isPack ? Math.ceil(bought.pieces / offer.packCount) : bought.packs;
  const packs = upTo(wanted, { least: offer.minimumPacks, step: offer.stepPacks });
  if (offer.stockPacks !== undefined && offer.stockPacks < packs) return SHORT;
  const packPrice = packPriceAt(offer, packs);
  const now: Bought = isPack
    ? { form: 'pack', packs, packCount: offer.packCount, pieces: packs * offer.packCount, packPrice }
    : { ...bought, packs, packPrice };
  const changed = packs !== bought.packs || (isPack && offer.packCount !== bought.packCount);
  return { bought: now, changed };
}

/** What one length or kit gives, in one text, in whatever order its parts are stated. */
function holds(of: Bought | Offer): string {
  if (of.form === 'kit') return canonicalJson([...of.contents].sort((a, b) => byCode(a.part, b.part)));
  if (of.form !== 'length') return '';
  return `${of.nominalMm} ${'usableMm' in of ? of.usableMm : usableMm(of)}`;
}

/** The smallest amount that is sold and is not under what is wanted. */
const upTo = (wanted: number, { least, step }: { least: number; step: number }) =>
  Math.ceil(Math.max(wanted, least) / step) * step;

const SHORT = { why: 'The supplier does not have so much of it today.' };
const SOLD_OTHERWISE = { why: 'It is sold in another way now. Ask for a new quote.' };
const HOLDS_OTHER = {
  why: 'One length or kit is another now, so that it may not be enough. Ask for a new quote.',
};
