import type { Offer } from './offer.ts';
import { samePrice } from './offerPrice.ts';

/** A price of an offer as it is kept: the whole offer as it stood, and the days on which this price was seen. */
export interface KeptPrice {
  /** In the order in which they were kept; two of one day follow each other by it. */
  number: number;
  /** The first and the last day on which it was seen. */
  first: string;
  last: string;
  /** false: nobody said when it was seen, and both days are the one on which it was put in. */
  seen: boolean;
  /** The day on which the offer was removed while it had this price. */
  goneOn: string | undefined;
  body: Offer;
  /** When it was put in, and by whom; undefined of one that is to be kept. */
  putIn?: { at: Date; by: string | null };
}

/** What becomes of a history: prices that are new, and kept ones with other days. */
export interface Kept {
  add: KeptPrice[];
  change: KeptPrice[];
}

/** The end of a history: its last price, the one before it, and the number that the next one gets. */
export interface HistoryEnd {
  newest: KeptPrice | undefined;
  previous: KeptPrice | undefined;
  next: number;
}

/** Prices in order of time. */
export function inTime(prices: readonly KeptPrice[]): KeptPrice[] {
  return [...prices].sort((a, b) => (a.first < b.first ? -1 : a.first > b.first ? 1 : a.number - b.number));
}

/** The price that held on a day; undefined before the first one and while the offer was gone. */
export function priceOn(prices: readonly KeptPrice[], day: string): KeptPrice | undefined {
  const last = inTime(prices).findLast(({ first }) => first <= day);
  return last?.goneOn !== undefined && last.goneOn <= day ? undefined : last;
}

/** The day since which a newer price is known, where an offer was seen before that: what it says is a past price. */
export function knownSince({ newest }: Pick<HistoryEnd, 'newest'>, offer: Offer): string | undefined {
  if (!newest?.seen || newest.goneOn !== undefined || offer.seenOn === undefined) return undefined;
  return offer.seenOn < newest.last ? newest.last : undefined;
}

const NOTHING: Kept = { add: [], change: [] };

/**
 * What an offer that was put in `today` adds to its history. A price that stays gets its days extended; any other begins
 * when it was seen, or else today, and never before the one that it follows. It is no past price: `knownSince` tells.
 */
export function putIn({ newest, previous, next }: HistoryEnd, body: Offer, today: string): Kept {
  const seen = body.seenOn !== undefined;
  const day = body.seenOn ?? today;
  const begins = (first: string): KeptPrice => ({
    number: next,
    first,
    last: first,
    seen,
    goneOn: undefined,
    body,
  });
  if (!newest) return { add: [begins(day)], change: [] };
  if (newest.goneOn !== undefined) return { add: [begins(later(day, newest.last))], change: [] };
  if (samePrice(newest.body, body)) {
    if (!seen || (newest.seen && day <= newest.last)) return NOTHING;
    if (day >= newest.first) return { add: [], change: [{ ...newest, last: day, seen: true }] };
    // It was put in without a day, and is now said to have been seen before.
    const first = later(day, previous?.last ?? day);
    return { add: [], change: [{ ...newest, first, last: first, seen: true }] };
  }
  if (newest.seen || day >= newest.last) return { add: [begins(later(day, newest.last))], change: [] };
  // A price of which nobody said when it was seen cannot have come after the one that takes its place.
  const first = later(day, previous?.last ?? day);
  return { add: [begins(first)], change: [{ ...newest, first, last: first }] };
}

/**
 * What a past price adds to a whole history, by the day on which it was seen. Where that lies between two days on which
 * another price was seen, that one is parted in two: of the days between nobody knows any more on which it was seen.
 */
export function putBefore(prices: readonly KeptPrice[], body: Offer, day: string): Kept {
  const all = inTime(prices);
  const next = Math.max(0, ...all.map(({ number }) => number)) + 1;
  const around = all.findLast(({ first, last }) => first <= day && day <= last);
  if (around && samePrice(around.body, body)) return NOTHING;
  // Whatever is the last price before the offer went tells when that was.
  const before = around ?? all.findLast(({ last }) => last < day);
  const goneOn = before?.goneOn !== undefined && day <= before.goneOn ? before.goneOn : undefined;
  const stays = goneOn === undefined ? [] : before ? [{ ...before, goneOn: undefined }] : [];
  const own: KeptPrice = { number: next, first: day, last: day, seen: true, goneOn, body };
  if (around) {
    const { first, last } = around;
    if (last === day) return { add: [own], change: stays };
    // The later part stays in its place among prices of its day.
    return {
      add: [
        { ...around, number: next, last: first, goneOn: undefined },
        { ...own, number: next + 1, goneOn: undefined },
      ],
      change: [{ ...around, first: last }],
    };
  }
  if (before && (before.goneOn === undefined || goneOn !== undefined) && samePrice(before.body, body))
    return { add: [], change: [{ ...before, last: day, seen: true }] };
  const after = all.find(({ first }) => first > day);
  if (after && goneOn === undefined && samePrice(after.body, body))
    return { add: [], change: [{ ...after, first: day, seen: true }] };
  return { add: [own], change: stays };
}

const later = (a: string, b: string) => (a < b ? b : a);
