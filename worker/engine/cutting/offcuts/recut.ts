import { cuttingIn, filledIn, type Filled, type Length } from './lengths.ts';
import { inPairs } from './pairs.ts';
import { searched } from './search.ts';
import { intoShorter } from './shorter.ts';

/** Steps that a recutting takes at the most, where nothing else is said. */
export const STEPS = 100_000;

/**
 * The same pieces out of the same lengths, cut so that of all ways to cut them, in this order,
 *
 * 1. the fewest lengths are opened;
 * 2. of these the fewest are bought ones: an offcut off the shelf is opened first where that opens no more lengths;
 * 3. the opened ones are the shortest in all, so that the longer ones stay whole;
 * 4. the longest offcut is the longest, then the second, and so on; those shorter than `keepMm` count for nothing.
 *
 * A piece comes out of a length of its own order or an earlier one, as in the cutting that is given; what comes out is
 * never worse than that. `best`: whether it is shown to be the best of all; else it is what so many steps came to.
 */
export function recut(
  lengths: readonly Length[],
  given: readonly Filled[],
  keepMm: number,
  steps: number = STEPS,
): { filled: Filled[]; best: boolean } {
  // A good cutting to begin with leaves few sets of lengths to look at.
  const cutting = intoShorter(cuttingIn(lengths, given));
  const effort = { left: steps };
  const whole = searched(cutting, keepMm, effort);
  const best = whole.ended ? whole.cutting : intoShorter(inPairs(whole.cutting, keepMm, { left: steps }));
  return { filled: filledIn(best), best: whole.ended };
}
