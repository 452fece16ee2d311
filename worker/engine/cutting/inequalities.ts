import type { Control } from '../model/control.ts';
import { cuttingOf, type Cutting, type Stock } from './cutting.ts';
import { leastFractions } from './fractional.ts';
import { inequalityOf, leftSide, wholeValues, type Inequality } from './inequality.ts';
import type { Pieces } from './patterns.ts';
import { BROKEN_INEQUALITY, FRACTIONS_NEAR_ENOUGH, WORTH_TOO_MUCH } from '../solver/tolerances.ts';

/** A continuous length by the metre, of so many mm. */
export interface Metre {
  mm: number;
  wave?: number;
}

/** Any inequality that is broken will do after so many rounds, times pieces, of looking for the one that is
 * broken most. */
const MOST_ROUNDS = 3_000;

/** By so much the lengths are raised at first, so that what is not bought yet has a worth within reason too. */
const MORE = 0.01;

/**
 * An inequality that every set of lengths satisfies out of which all pieces come whole, and that so many of each stock
 * (which may be fractions) and these continuous lengths do not; the one that is broken most for its need. Undefined where
 * the pieces come out of these in fractions, by no more than the solver's noise, or where the control's time runs out.
 */
export async function inequalityFor(
  stocks: readonly Stock[],
  pieces: readonly Pieces[],
  at: readonly number[],
  control: Control,
  metres: readonly Metre[] = [],
): Promise<Inequality | undefined> {
  const cutting = cuttingOf(stocks, pieces);
  const counts = pieces.map(({ count }) => count);
  const total = pieces.reduce((sum, { mm, count }) => sum + mm * count, 0);
  const pool: Parameters<typeof leastFractions>[0]['pool'] = [];
  for (const more of [MORE, 0]) {
    const answer = await leastFractions(
      {
        cutting,
        counts,
        by: 'at',
        stocks: stocks.map(
          ({ usableMm }, stock) => (at[stock] ?? 0) + (more * total) / Math.max(1, usableMm),
        ),
        metres: metres.map(({ mm, wave = 0 }) => ({ amount: mm + more * total, wave })),
        pool,
        enough: (least, bound, rounds) =>
          least <= 1 ||
          (bound > 1 &&
            (least <= bound * (1 + FRACTIONS_NEAR_ENOUGH) || rounds * pieces.length > MOST_ROUNDS)),
      },
      control,
    );
    if (!answer) return undefined;
    const broken = brokenBy(cutting, answer.values, at, metres);
    if (broken) return broken;
  }
  return undefined;
}

/** The inequality of these values, in the whole numbers in which it is broken most; undefined where it is not. */
export function brokenBy(
  cutting: Cutting,
  values: readonly number[],
  at: readonly number[],
  metres: readonly Metre[],
): Inequality | undefined {
  // Worths to the last digit take much longer, and seldom matter.
  return (
    brokenWithin(WORTH_TOO_MUCH, cutting, values, at, metres) ?? brokenWithin(0, cutting, values, at, metres)
  );
}

function brokenWithin(
  slack: number,
  cutting: Cutting,
  values: readonly number[],
  at: readonly number[],
  metres: readonly Metre[],
): Inequality | undefined {
  const counts = cutting.pieces.map(({ count }) => count);
  let best: { share: number; inequality: Inequality } | undefined;
  for (const whole of wholeValues(values, counts)) {
    const inequality = inequalityOf(
      cutting,
      metres.map(({ wave = 0 }) => ({ wave })),
      whole,
      slack,
    );
    const left = leftSide(
      inequality,
      at,
      metres.map(({ mm }) => mm),
    );
    const share = left / inequality.need;
    if (share < 1 - BROKEN_INEQUALITY && share < (best?.share ?? 1) - BROKEN_INEQUALITY)
      best = { share, inequality };
  }
  return best?.inequality;
}
