import type { Cutting } from './cutting.ts';
import { itemsFor } from './fillings.ts';
import { mostWorth } from './mostWorth.ts';
import { gcd } from '../units/gcd.ts';
import { ROUNDED_QUOTIENT, WHOLE_VALUE } from '../solver/tolerances.ts';

/**
 * What any lengths out of which all pieces come whole satisfy: Σ worth · lengths + Σ perMm · mm ≥ need, `lengths` being
 * how many there are of each stock and `mm` how long each continuous length is. Worth and need are whole numbers.
 */
export interface Inequality {
  worth: number[];
  /** By continuous length; not always a whole number. */
  perMm: number[];
  need: number;
}

/**
 * The inequality that these whole values of the pieces give, whatever they are: no length is worth more than what its best
 * filling is, which is worked out here without rounding; or, where `slack` is given, than that and no more than such a share.
 */
export function inequalityOf(
  cutting: Cutting,
  metres: readonly { wave: number }[],
  values: readonly number[],
  slack = 0,
): Inequality {
  const { pieces, stocks, mostEntries } = cutting;
  const counts = pieces.map(({ count }) => count);
  const filled = new Map(
    [...new Set(stocks.map(({ wave }) => wave))].map((wave) => {
      const items = itemsFor(cutting, wave, counts, values);
      const sizes = stocks.map((stock) => (stock.wave === wave ? stock.size : 0));
      return [wave, mostWorth(items, sizes, { mostEntries, slack })];
    }),
  );
  const worth = stocks.map(({ wave }, stock) => filled.get(wave)?.[stock] ?? 0);
  const perMm = metres.map(({ wave }) => mostOf(cutting, wave, (piece, at) => (values[at] ?? 0) / piece.mm));
  const need = pieces.reduce((sum, { count }, at) => sum + count * (values[at] ?? 0), 0);
  return rounded({ worth, perMm: perMm.map(above), need });
}

/** The most that any piece gives which may come of a length of this wave. */
function mostOf(
  { pieces }: Cutting,
  wave: number,
  give: (piece: Cutting['pieces'][number], at: number) => number,
): number {
  return pieces.reduce((most, piece, at) => (piece.wave >= wave ? Math.max(most, give(piece, at)) : most), 0);
}

/** Not below the exact quotient, which the floating-point one may be by its last digit. */
function above(quotient: number): number {
  return Number.isInteger(quotient) ? quotient : quotient * (1 + ROUNDED_QUOTIENT);
}

/** Where only whole lengths count, worths are divided by what they have in common, and the need rounded up. */
function rounded({ worth, perMm, need }: Inequality): Inequality {
  const common = worth.reduce(gcd, 0);
  if (common < 2) return { worth, perMm, need };
  if (perMm.some((each) => each > 0))
    return need % common === 0
      ? {
          worth: worth.map((each) => each / common),
          perMm: perMm.map((each) => above(each / common)),
          need: need / common,
        }
      : { worth, perMm, need };
  return { worth: worth.map((each) => each / common), perMm, need: Math.ceil(need / common) };
}

/** What the left side comes to. */
export function leftSide(
  { worth, perMm }: Inequality,
  lengths: readonly number[],
  metres: readonly number[],
): number {
  const sum = (each: readonly number[], many: readonly number[]) =>
    each.reduce((total, one, at) => total + one * (many[at] ?? 0), 0);
  return sum(worth, lengths) + sum(perMm, metres);
}

/** Larger needs make whole-number models hard to solve exactly. */
const MOST_NEED = 4_000_000;
const MOST_DENOMINATOR = 720;

/**
 * Ways to write values as whole numbers in the same proportions: by the smallest denominator that leaves them as they are,
 * if there is a small one, and as finely as a model bears.
 */
export function wholeValues(values: readonly number[], counts: readonly number[]): number[][] {
  const total = values.reduce((sum, value, at) => sum + value * (counts[at] ?? 0), 0);
  const most = values.reduce((greatest, value) => Math.max(greatest, value), 0);
  if (most <= 0) return [];
  const ways: number[][] = [];
  for (let unit = 1; unit <= MOST_DENOMINATOR; unit++) {
    const scaled = values.map((value) => (value * unit) / most);
    if (scaled.some((value) => Math.abs(value - Math.round(value)) > WHOLE_VALUE)) continue;
    ways.push(scaled.map(Math.round));
    break;
  }
  const scale = MOST_NEED / total;
  ways.push(
    values.map((value) => Math.floor(value * scale + WHOLE_VALUE)),
    values.map((value) => Math.round(value * scale)),
  );
  return ways;
}
