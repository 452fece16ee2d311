import type { Control } from '../model/control.ts';
import { cuttingOf, type Cutting, type Stock } from './cutting.ts';
import { leastFractions } from './fractional.ts';
import { inequalityOf, wholeValues, type Inequality } from './inequality.ts';
import type { Pieces } from './patterns.ts';
import {
  BROKEN_INEQUALITY,
  FRACTIONS_NEAR_ENOUGH,
  SAYS_MORE,
  WORTH_NOTHING,
  WORTH_TOO_MUCH,
} from '../solver/tolerances.ts';

/** A stock and what a length of it costs, and a continuous length and what a mm of it costs, in any one measure. */
export interface PricedStock extends Stock {
  price: number;
}
export interface PricedMetre {
  pricePerMm: number;
  wave?: number;
}

/** Into so many parts a length is divided at most, to count the pieces that are longer than a part. */
const MOST_PARTS = 6;

/**
 * Inequalities to begin with: that there is as much as is cut; those of dual feasible functions, where they say more of
 * some stock; and that of the cheapest cutting in fractions (left out where the control's time runs out).
 */
export async function startingInequalities(
  stocks: readonly PricedStock[],
  pieces: readonly Pieces[],
  control: Control,
  metres: readonly PricedMetre[] = [],
): Promise<Inequality[]> {
  const cutting = cuttingOf(stocks, pieces);
  const waves = metres.map(({ wave = 0 }) => ({ wave }));
  const byLength = inequalityOf(
    cutting,
    waves,
    pieces.map(({ mm }) => mm),
  );
  const counted = countsOf(cutting, stocks)
    .map((values) => inequalityOf(cutting, waves, values))
    .filter((inequality) => saysMore(inequality, byLength));
  const cheapest = await cheapestOf(cutting, stocks, metres, control);
  const all = [byLength, ...counted, ...(cheapest ? [cheapest] : [])];
  return [...new Map(all.map((inequality) => [JSON.stringify(inequality), inequality])).values()];
}

/**
 * Per stock and number of parts, how many parts of a length a piece takes at least: of length x, a length of L in k + 1
 * parts, (k + 1) x / L where that is whole and (k + 1) ⌊(k + 1) x / L⌋ / k else, here times k: Fekete and Schepers, New
 * classes of fast lower bounds for bin packing problems, Mathematical Programming 91 (2001).
 */
function countsOf({ pieces }: Cutting, stocks: readonly Stock[]): number[][] {
  const lengths = [...new Set(stocks.map(({ usableMm }) => usableMm))];
  return lengths.flatMap((length) =>
    Array.from({ length: MOST_PARTS }, (_, at) => at + 1).map((k) =>
      pieces.map(({ mm }) => {
        const parts = ((k + 1) * mm) / length;
        return Number.isInteger(parts) ? k * parts : (k + 1) * Math.floor(parts);
      }),
    ),
  );
}

/** Whether it needs more of some stock alone than another does. */
function saysMore(inequality: Inequality, other: Inequality): boolean {
  const alone = ({ worth, need }: Inequality, stock: number) =>
    need / Math.max(WORTH_NOTHING, worth[stock] ?? 0);
  return (
    inequality.need > 0 &&
    inequality.worth.some((_, stock) => alone(inequality, stock) > alone(other, stock) * (1 + SAYS_MORE))
  );
}

async function cheapestOf(
  cutting: Cutting,
  stocks: readonly PricedStock[],
  metres: readonly PricedMetre[],
  control: Control,
): Promise<Inequality | undefined> {
  const counts = cutting.pieces.map(({ count }) => count);
  const longest = Math.max(1, ...cutting.pieces.map(({ mm }) => mm));
  const dearest = Math.max(
    ...stocks.map(({ price }) => price),
    ...metres.map(({ pricePerMm }) => pricePerMm * longest),
    0,
  );
  if (dearest <= 0) return undefined;
  const prices = stocks.map(({ price }) => price / dearest);
  const answer = await leastFractions(
    {
      cutting,
      counts,
      by: 'prices',
      stocks: prices,
      metres: metres.map(({ pricePerMm, wave = 0 }) => ({ amount: pricePerMm / dearest, wave })),
      pool: [],
      enough: (least, bound, rounds) =>
        least <= bound * (1 + FRACTIONS_NEAR_ENOUGH) || rounds * counts.length > MOST_ROUNDS,
    },
    control,
  );
  if (!answer) return undefined;
  // The one in which a need costs the most at these prices, to be paid for in lengths and mm.
  const strength = ({ worth, perMm, need }: Inequality) => {
    const cheapest = Math.min(
      ...worth.map((each, stock) => (each > 0 ? (prices[stock] ?? 0) / each : Infinity)),
      ...perMm.map((each, metre) =>
        each > 0 ? (metres[metre]?.pricePerMm ?? 0) / dearest / each : Infinity,
      ),
    );
    return need * cheapest;
  };
  const ways = wholeValues(answer.values, counts).map((whole) =>
    inequalityOf(
      cutting,
      metres.map(({ wave = 0 }) => ({ wave })),
      whole,
      WORTH_TOO_MUCH,
    ),
  );
  return ways.reduce<Inequality | undefined>(
    (best, way) => (!best || strength(way) > strength(best) * (1 + BROKEN_INEQUALITY) ? way : best),
    undefined,
  );
}

/** The cheapest cutting is near enough after so many rounds times pieces. */
const MOST_ROUNDS = 3_000;
