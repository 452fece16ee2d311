import { Worths, type Fill } from './fillings.ts';
import type { Rest, Search } from './packing.ts';

/** Sums of worths stay whole in floating point below 2^53. */
const MOST_SUM = 2 ** 50;

/**
 * At these values of the pieces, in whole numbers: what a length of each stock is worth at most, and by how much the
 * lengths are worth more than the pieces. Below 0 the pieces do not come out of them; else no length of a packing is
 * filled for less than its worth by more than that.
 */
export interface Losses {
  worths: Worths;
  worth: number[];
  spare: number;
}

/** Without rounding, whatever the values are. Undefined where these say nothing. */
export function lossesAt(
  { cutting }: Search,
  { lengths, counts }: Rest,
  values: readonly number[],
  shutOut: readonly Fill[] = [],
): Losses | undefined {
  const needFor = (each: readonly number[]) =>
    each.reduce((sum, value, at) => sum + value * (counts[at] ?? 0), 0);
  const rough = needFor(values);
  if (rough <= 0) return undefined;
  const whole = values.map((value) => Math.floor((value * MOST_SUM) / 64 / rough));
  const worths = new Worths(cutting, counts, whole);
  const worth = cutting.stocks.map((_, stock) => {
    if (!lengths[stock]) return 0;
    return shutOut.length === 0 ? worths.worth(stock) : (worths.bestBeside(stock, shutOut)?.worth ?? 0);
  });
  const all = worth.reduce((sum, each, stock) => sum + each * (lengths[stock] ?? 0), 0);
  // Worth so much, they are not all needed by far, and a loss would say nothing.
  if (all > 2 ** 53) return undefined;
  return { worths, worth, spare: all - needFor(whole) };
}
