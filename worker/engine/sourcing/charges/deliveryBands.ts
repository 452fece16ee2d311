import type { Lane } from '../../model/lane.ts';
import type { Money } from '../../model/money.ts';
import type { Supplier } from '../../model/supplier.ts';
import {
  ceilOf,
  floorOf,
  fraction,
  fractionOf,
  minus,
  NOTHING,
  ONE,
  over,
  plus,
  sumOf,
  times,
  type Fraction,
} from '../../units/fraction.ts';
import { exactFromMoney, toMinor, type Exact } from '../../units/money.ts';
import type { Exchange } from '../../model/exchange.ts';
import type { Customs } from '../../job/lanes.ts';
import type { Band, Charge, ChargeKind } from '../problem/problem.ts';

/** A charge as fractions of exact units of the club's currency; scaled to whole numbers with those of the whole problem. */
export interface ExactCharge {
  kind: ChargeKind;
  fixed: Fraction;
  rate: Fraction;
}

export type ExactBand = Omit<Band, 'charge' | 'rate' | 'charges'> & { charges: readonly ExactCharge[] };

/** What a supplier's terms are read by. Every currency that is named must have a rate. */
export interface Terms {
  exchange: Exchange;
  customs: Customs;
  /** What a parcel counts beside its cost. */
  nuisance: Money | undefined;
}

/**
 * A supplier's postage, handling, minimum order, currency, tax and import as delivery bands. Bands by value and weight
 * first; each is split where an import threshold begins; of each piece the charges follow from what holds in it.
 */
export function bandsOf(supplier: Supplier, { exchange, customs, nuisance }: Terms): ExactBand[] {
  const toClub = factorOf(exchange, supplier.currency);
  const takenOff = customs.kind === 'abroad' && customs.takeOff ? customs.lane.sellerTaxPercent : 0;
  const factor = over(toClub, plus(ONE, percent(takenOff)));
  const handling = supplier.handling ? exactFromMoney(supplier.handling) : 0n;
  const minimum = supplier.minimumOrder ? exactFromMoney(supplier.minimumOrder) : 0n;
  const extra = nuisance ? [fixed('nuisance', inClub(exchange, nuisance))] : [];
  return postageBands(supplier)
    .filter(({ below }) => below === undefined || below > minimum)
    .map((band) => ({ ...band, from: band.from > minimum ? band.from : minimum }))
    .flatMap((band) => {
      const sent: ExactCharge[] = [
        { kind: 'goods', fixed: NOTHING, rate: factor },
        fixed('postage', times(fraction(band.postage), factor)),
        fixed('handling', times(fraction(handling), factor)),
      ];
      return splitByImport(band, customs, sent, factor, exchange).map(({ piece, charges }) => ({
        from: piece.from,
        below: piece.below,
        fromMicrograms: piece.fromMicrograms,
        belowMicrograms: piece.belowMicrograms,
        charges: [...charges, ...extra].filter(
          ({ kind, fixed: { over: some }, rate }) => kind === 'goods' || some !== 0n || rate.over !== 0n,
        ),
      }));
    });
}

interface PostageBand extends Pick<Band, 'from' | 'below' | 'fromMicrograms' | 'belowMicrograms'> {
  postage: Exact;
}

const ANY: PostageBand = {
  from: 0n,
  below: undefined,
  fromMicrograms: 0,
  belowMicrograms: undefined,
  postage: 0n,
};
const MICROGRAMS_PER_G = 1_000_000;

function postageBands({ postage }: Supplier): PostageBand[] {
  if (!postage) return [ANY];
  if (postage.by === 'value')
    return postage.bands.map((band, index) => ({
      ...ANY,
      from: exactFromMoney(band.fromValue),
      below: exactOf(postage.bands[index + 1]?.fromValue),
      postage: exactFromMoney(band.charge),
    }));
  const free = exactOf(postage.freeFromValue);
  const byWeight = postage.bands.map((band, index) => {
    const next = postage.bands[index + 1];
    return {
      ...ANY,
      below: free,
      fromMicrograms: band.fromG * MICROGRAMS_PER_G,
      belowMicrograms: next && next.fromG * MICROGRAMS_PER_G,
      postage: exactFromMoney(band.charge),
    };
  });
  return free === undefined ? byWeight : [...byWeight, { ...ANY, from: free }];
}

interface Piece {
  piece: PostageBand;
  charges: ExactCharge[];
}

/** A band in the pieces between the values from which duty, tax and fee are charged, with all that is charged in each. */
function splitByImport(
  band: PostageBand,
  customs: Customs,
  sent: readonly ExactCharge[],
  factor: Fraction,
  exchange: Exchange,
): Piece[] {
  if (customs.kind === 'none') return [{ piece: band, charges: [...sent] }];
  const { lane } = customs;
  if (customs.kind === 'home')
    return [{ piece: band, charges: [...sent, share('tax', percent(lane.taxPercent), sent)] }];
  const beside =
    lane.valueIs === 'goodsAndPostage' ? sumOf(sent.map(({ fixed: amount }) => amount)) : NOTHING;
  const startOf = (threshold: Money | undefined) =>
    threshold ? firstOver(minus(inClub(exchange, threshold), beside), factor, lane.exactlyThere) : 0n;
  const starts = {
    duty: startOf(lane.dutyOverValue),
    tax: startOf(lane.taxOverValue),
    clearance: startOf(lane.clearanceOverValue),
  };
  const cuts = [...new Set(Object.values(starts))]
    .filter((at) => at > band.from && (band.below === undefined || at < band.below))
    .sort((a, b) => (a < b ? -1 : 1));
  return [band.from, ...cuts].map((from, index) => ({
    piece: { ...band, from, below: cuts[index] ?? band.below },
    charges: atImport(
      lane,
      sent,
      {
        duty: from >= starts.duty,
        tax: from >= starts.tax,
        clearance: from >= starts.clearance,
      },
      exchange,
    ),
  }));
}

/** The least value of goods, at stated prices, that is over a threshold in the club's currency. */
function firstOver(threshold: Fraction, factor: Fraction, exactlyThere: Lane['exactlyThere']): Exact {
  if (factor.over === 0n) return 0n;
  const at = over(threshold, factor);
  const first = exactlyThere === 'free' ? floorOf(at) + 1n : ceilOf(at);
  return first < 0n ? 0n : first;
}

function atImport(
  lane: Lane,
  sent: readonly ExactCharge[],
  charged: { duty: boolean; tax: boolean; clearance: boolean },
  exchange: Exchange,
): ExactCharge[] {
  const dutiable = lane.dutyOn === 'goods' ? sent.filter(({ kind }) => kind === 'goods') : sent;
  const duty = charged.duty ? [share('duty', percent(lane.dutyPercent), dutiable)] : [];
  const tax = charged.tax ? [share('importTax', percent(lane.taxPercent), [...sent, ...duty])] : [];
  const fee =
    charged.clearance && lane.clearanceFee ? [fixed('clearance', inClub(exchange, lane.clearanceFee))] : [];
  return [...sent, ...duty, ...tax, ...fee];
}

function share(kind: ChargeKind, part: Fraction, of: readonly ExactCharge[]): ExactCharge {
  return {
    kind,
    fixed: times(part, sumOf(of.map(({ fixed: amount }) => amount))),
    rate: times(part, sumOf(of.map(({ rate }) => rate))),
  };
}

const fixed = (kind: ChargeKind, amount: Fraction): ExactCharge => ({ kind, fixed: amount, rate: NOTHING });
const percent = (value: number) => over(fractionOf(value), fraction(100n));

function factorOf(exchange: Exchange, currency: string): Fraction {
  const factor = exchange.toClub(currency);
  if (!factor) throw new Error(`there is no rate for ${currency}`);
  return factor;
}

/** Money of any currency in exact units of the club's. */
function inClub(exchange: Exchange, money: Money): Fraction {
  return times(fraction(exactFromMoney(money)), factorOf(exchange, money.currency));
}

function exactOf(money: Money | undefined): Exact | undefined {
  return money && exactFromMoney(money);
}

/** Postage by the supplier's own list, minor units of its currency. */
export function postageFor(supplier: Supplier, goods: Exact, micrograms: number): bigint {
  const band = postageBands(supplier).find(
    ({ from, below, fromMicrograms, belowMicrograms }) =>
      from <= goods &&
      (below === undefined || goods < below) &&
      fromMicrograms <= micrograms &&
      (belowMicrograms === undefined || micrograms < belowMicrograms),
  );
  return band ? toMinor(band.postage) : 0n;
}

/** The least scale on which all charges are whole numbers. */
export function denominators(bands: readonly ExactBand[]): bigint[] {
  return bands.flatMap(({ charges }) =>
    charges.flatMap(({ fixed: amount, rate }) => [amount.under, rate.under]),
  );
}

/** The bands with their charges as whole numbers of a scale that holds them all. */
export function scaled(bands: readonly ExactBand[], scale: bigint): Band[] {
  const whole = ({ over: above, under }: Fraction) => (above * scale) / under;
  return bands.map((band) => {
    const charges = band.charges.map(({ kind, fixed: amount, rate }): Charge => ({
      kind,
      fixed: whole(amount),
      rate: whole(rate),
    }));
    return {
      ...band,
      charges,
      charge: charges.reduce((sum, charge) => sum + charge.fixed, 0n),
      rate: charges.reduce((sum, charge) => sum + charge.rate, 0n),
    };
  });
}
