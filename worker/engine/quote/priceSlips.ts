import { exchangeOf, type Exchange } from '../model/exchange.ts';
import { pointer, type Finding } from '../model/finding.ts';
import { addTo } from '../model/group.ts';
import type { Job } from '../model/job.ts';
import { offerCurrency, type Offer } from '../model/offer.ts';
import { D } from '../units/decimal.ts';

/** A price so many times over, or under, what the others ask is asked about: common practice, no source. */
const TIMES_OTHERS = 5;
/** So many times between two packs of one seller: a decimal point that slipped. */
const TIMES_OWN = 10;
/** Packs are compared while one holds at most so many times as much as the other: what is bought by the hundred is cheaper. */
const PACKS_APART = 25;
/** Of how many sellers there must be prices. */
const SELLERS = 3;

/** What a piece or a metre costs in an offer, in the club's currency. */
interface UnitPrice {
  offer: Offer;
  at: number;
  part: string;
  /** The least that is sold: pieces or mm. */
  quantity: number;
  /** Of the least that is sold, and of the largest quantity with a price of its own. */
  dearest: D;
  cheapest: D;
}

/**
 * Prices that look like a slip of the decimal point, of the offers that are bought or that ask the least for what is needed:
 * a piece or a metre at more than five times, or under a fifth, of the median of the other sellers; or ten times apart from
 * another pack of the same seller. Used parts are compared with used ones alone. Kits are not looked at: what their parts
 * cost is not known one by one.
 *
 * An offer is judged by the end of its prices that lies nearest to the others', so that a break or a large pack does not cry:
 * too dear by its cheapest price against the others' dearest, too cheap the other way round.
 */
export function priceSlips(
  job: Job,
  { needed, bought }: { needed: ReadonlySet<string>; bought: ReadonlySet<string> },
): Finding[] {
  const exchange = exchangeOf(job);
  const markets = new Map<string, UnitPrice[]>();
  job.offers.forEach((offer, at) => {
    const price = unitPrice(offer, at, exchange);
    if (price && needed.has(price.part))
      addTo(markets, `${price.part} ${offer.condition === 'used' ? 'used' : ''}`, price);
  });
  return [...markets.values()].flatMap((market) => {
    const told = new Set<UnitPrice>();
    return lookedAt(market, bought).flatMap((price) => {
      const others = againstOthers(price, market, job);
      const own = others ? undefined : otherPack(price, market);
      // Of two packs that are both looked at, the pair is told once.
      if (own && told.has(own)) return [];
      told.add(price);
      return others ?? (own ? againstOwn(price, own, job) : []);
    });
  });
}

/** What is bought, and what asks the least. */
function lookedAt(market: readonly UnitPrice[], bought: ReadonlySet<string>): UnitPrice[] {
  const least = market.reduce((a, b) => (b.cheapest.lt(a.cheapest) ? b : a));
  return market.filter((price) => price === least || bought.has(price.offer.code));
}

function againstOthers(price: UnitPrice, market: readonly UnitPrice[], job: Job): Finding | undefined {
  const { offer } = price;
  const sellers = new Map<string, UnitPrice[]>();
  for (const other of market)
    if (other.offer.supplier !== offer.supplier && packsApart(price, other) <= PACKS_APART)
      addTo(sellers, other.offer.supplier, other);
  if (sellers.size < SELLERS - 1) return undefined;
  const dearest = [...sellers.values()].map((own) => D.max(...own.map((each) => each.dearest)));
  const cheapest = [...sellers.values()].map((own) => D.min(...own.map((each) => each.cheapest)));
  // Of an even number of prices the middle one nearer to this offer's: one slip among two others is not told as two.
  const most = middle(dearest, 'upper');
  const least = middle(cheapest, 'lower');
  const dear = price.cheapest.gt(most.mul(TIMES_OTHERS));
  const cheap = price.dearest.mul(TIMES_OTHERS).lt(least);
  if (!dear && !cheap) return undefined;
  return {
    ...placeOf(price),
    code: 'price-unlike-others',
    found: `${unitWords(dear ? price.cheapest : price.dearest, offer, job)}; the median of ${sellers.size} others is ${unitWords(dear ? most : least, offer, job)}`,
    limit: `between a fifth of the median and ${TIMES_OTHERS} times the median`,
    source: 'common practice, no source',
    todo: 'Check the price again: the decimal point may be in the wrong place, or the pack may hold another number.',
  };
}

/** Another pack of the same seller that asks ten times as much for a piece, or a tenth. */
function otherPack(price: UnitPrice, market: readonly UnitPrice[]): UnitPrice | undefined {
  return market.find(
    (each) =>
      each !== price &&
      each.offer.supplier === price.offer.supplier &&
      packsApart(price, each) <= PACKS_APART * TIMES_OWN &&
      (price.cheapest.gte(each.dearest.mul(TIMES_OWN)) || each.cheapest.gte(price.dearest.mul(TIMES_OWN))),
  );
}

function againstOwn(price: UnitPrice, other: UnitPrice, job: Job): Finding {
  const { offer } = price;
  const dear = price.cheapest.gt(other.dearest);
  return {
    ...placeOf(price),
    code: 'price-unlike-own-pack',
    found: `${unitWords(dear ? price.cheapest : price.dearest, offer, job)}; offer ${other.offer.code} of the same supplier asks ${unitWords(dear ? other.dearest : other.cheapest, other.offer, job)}`,
    limit: `less than ${TIMES_OWN} times apart`,
    source: 'common practice, no source',
    todo: 'Check both prices again: a decimal point may be in the wrong place, or a pack may hold another number.',
  };
}

function placeOf({ offer, at }: UnitPrice): Pick<Finding, 'severity' | 'at' | 'where' | 'subject'> {
  return {
    severity: 'warning',
    at: pointer(['offers', at, offer.form === 'metre' ? 'pricePerMetre' : 'packPrice']),
    where: `offer ${offer.code} of ${offer.supplier}`,
    subject: `offer:${offer.code}`,
  };
}

/** How many times as much the one holds as the other at the least. */
function packsApart(a: UnitPrice, b: UnitPrice): number {
  return Math.max(a.quantity, b.quantity) / Math.min(a.quantity, b.quantity);
}

function middle(values: readonly D[], which: 'upper' | 'lower'): D {
  const sorted = [...values].sort((a, b) => a.cmp(b));
  const at = which === 'upper' ? Math.floor(sorted.length / 2) : Math.ceil(sorted.length / 2) - 1;
  return sorted[at] ?? new D(0);
}

/** "0.35 GBP a piece", in the club's currency. */
function unitWords(price: D, { form }: Offer, { club }: Job): string {
  return `${price.toDecimalPlaces(4).toFixed()} ${club.currency} a ${form === 'pack' ? 'piece' : 'metre'}`;
}

/** Undefined of a kit, and where there is no rate of its currency. */
function unitPrice(offer: Offer, at: number, exchange: Exchange): UnitPrice | undefined {
  if (offer.form === 'kit') return undefined;
  const currency = offerCurrency(offer);
  if (exchange.toClub(currency) === undefined) return undefined;
  const rate = exchange.rateOf(currency)?.rate ?? 1;
  const prices =
    offer.form === 'metre'
      ? [offer.pricePerMetre, ...(offer.breaks ?? []).map(({ pricePerMetre }) => pricePerMetre)]
      : [offer.packPrice, ...(offer.breaks ?? []).map(({ packPrice }) => packPrice)];
  const each = inUnits(offer);
  const units = prices.map(({ amount }) => new D(amount).mul(rate).div(each));
  return {
    offer,
    at,
    part: offer.part,
    quantity: leastSold(offer),
    dearest: D.max(...units),
    cheapest: D.min(...units),
  };
}

/** How many pieces or metres one price buys. */
function inUnits(offer: Exclude<Offer, { form: 'kit' }>): D {
  switch (offer.form) {
    case 'pack':
      return new D(offer.packCount);
    case 'length':
      return new D(offer.nominalMm).div(1000);
    case 'metre':
      return new D(1);
  }
}

function leastSold(offer: Exclude<Offer, { form: 'kit' }>): number {
  switch (offer.form) {
    case 'pack':
      return offer.packCount * offer.minimumPacks;
    case 'length':
      return offer.nominalMm * offer.minimumPacks;
    case 'metre':
      return offer.minimumMm;
  }
}
