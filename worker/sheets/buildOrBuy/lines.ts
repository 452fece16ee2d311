import type { BuildOrBuy, Combination } from '../../engine/model/buildOrBuy.ts';
import {
  ceilOf,
  compareFractions,
  fraction,
  minus,
  over,
  plus,
  roundOf,
  times,
  type Fraction,
} from '../../engine/units/fraction.ts';
import { exactFromAmount, MINOR_UNIT, minorToAmount } from '../../engine/units/money.ts';
import { toldOf } from './words.ts';

/** A place on a picture of total against the worth of an hour: both in whole units of the currency, and as they are printed. */
export interface CostPoint {
  hourWorth: number;
  total: number;
  hourWorthText: string;
  totalText: string;
}

/** A straight line: what one combination costs with labour, from an hour's worth of 0 to the most that is drawn. */
export interface CostLine {
  kind: 'allBuilt' | 'allBought' | 'best';
  minutes: number;
  /** One at each of the worths, in order. */
  points: readonly CostPoint[];
}

export const LINE_NAMES: Record<CostLine['kind'], string> = {
  allBuilt: 'All built',
  allBought: 'All bought made',
  best: 'The cheapest',
};

/** Cost against the worth of an hour: lines, where the first two cross, and where the user stands. */
export interface CostLines {
  currency: string;
  /** 0, where they cross, the user's own, and the right end of the picture: rising, each once. */
  worths: readonly { text: string; is: readonly ('start' | 'crossing' | 'yours' | 'end')[] }[];
  lines: readonly CostLine[];
  crossing?: CostPoint;
}

const MINUTES = fraction(1n, 60n);

/**
 * The coordinates of a picture of what building all, buying all and the cheapest combination cost with labour, against the worth of
 * an hour. Undefined where there are no two lines to be drawn. Exact until each figure is rounded once.
 */
export function costLines(known: BuildOrBuy): CostLines | undefined {
  const { allBuilt, allBought, best, isMixed } = toldOf(known);
  const { currency } = known.hourWorth;
  const drawn = [
    { kind: 'allBuilt', of: allBuilt },
    { kind: 'allBought', of: allBought },
    { kind: 'best', of: isMixed ? best : undefined },
  ] as const;
  const priced = drawn.flatMap(({ kind, of }) =>
    of?.cost ? [{ kind, minutes: of.minutes, ...lineOf(of, of.cost.amount, currency) }] : [],
  );
  if (priced.length < 2) return undefined;
  const [built, bought] = ['allBuilt', 'allBought'].map((kind) => priced.find((one) => one.kind === kind));
  const crossing = built && bought && crossingOf(built, bought);
  const yours = minorOf(known.hourWorth.amount, currency);
  const places = worthsOf(crossing, yours, currency);
  const pointOf = ({ cost, hours }: Line, worth: Fraction): CostPoint => {
    const total = plus(cost, times(hours, worth));
    return {
      hourWorth: wholeUnits(worth, currency),
      total: wholeUnits(total, currency),
      hourWorthText: amountOf(worth, currency),
      totalText: amountOf(total, currency),
    };
  };
  return {
    currency,
    worths: places.map(({ worth, is }) => ({ text: amountOf(worth, currency), is })),
    lines: priced.map((line) => ({
      kind: line.kind,
      minutes: line.minutes,
      points: places.map(({ worth }) => pointOf(line, worth)),
    })),
    ...(crossing && built ? { crossing: pointOf(built, crossing) } : {}),
  };
}

/** Minor units at no labour, and hours. */
interface Line {
  cost: Fraction;
  hours: Fraction;
}

function lineOf({ minutes }: Combination, cost: string, currency: string): Line {
  return {
    cost: minorOf(cost, currency),
    hours: times(fraction(BigInt(Math.round(minutes * 100)), 100n), MINUTES),
  };
}

/** The worth of an hour at which both cost the same; none where that is below 0, or they are alike everywhere. */
function crossingOf(one: Line, other: Line): Fraction | undefined {
  const more = minus(one.hours, other.hours);
  if (more.over === 0n) return undefined;
  const worth = over(minus(other.cost, one.cost), more);
  return worth.over < 0n ? undefined : worth;
}

type Place = { worth: Fraction; is: CostLines['worths'][number]['is'] };

function worthsOf(crossing: Fraction | undefined, yours: Fraction, currency: string): Place[] {
  const farther = (worth: Fraction) => times(worth, fraction(3n, 2n));
  const least = minorOf('10', currency);
  const end = roundUp(
    [least, farther(yours), ...(crossing ? [farther(crossing)] : [])].reduce((most, each) =>
      compareFractions(each, most) > 0 ? each : most,
    ),
  );
  const all: Place[] = [
    { worth: fraction(0n), is: ['start'] },
    ...(crossing ? [{ worth: crossing, is: ['crossing'] as const }] : []),
    { worth: yours, is: ['yours'] },
    { worth: end, is: ['end'] },
  ];
  const merged: Place[] = [];
  for (const place of all.sort((a, b) => compareFractions(a.worth, b.worth))) {
    const last = merged.at(-1);
    if (last && compareFractions(last.worth, place.worth) === 0) last.is = [...last.is, ...place.is];
    else merged.push({ ...place });
  }
  return merged;
}

/** Up to 1, 2 or 5 times a power of ten. */
function roundUp(worth: Fraction): Fraction {
  for (let power = 1n; ; power *= 10n)
    for (const step of [1n, 2n, 5n]) if (step * power >= ceilOf(worth)) return fraction(step * power);
}

function minorOf(amount: string, currency: string): Fraction {
  return fraction(exactFromAmount(amount, currency), MINOR_UNIT);
}

function amountOf(minor: Fraction, currency: string): string {
  return minorToAmount(roundOf(minor), currency);
}

/** As a floating-point number, to be drawn. */
function wholeUnits(minor: Fraction, currency: string): number {
  return Number(minorToAmount(roundOf(times(minor, fraction(1000n))), currency)) / 1000;
}
