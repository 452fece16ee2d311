import type { Fill } from './fillings.ts';
import { leastFractions, type FractionalAnswer } from './fractional.ts';
import { greedyPacking } from './greedy.ts';
import { isEmpty, needed, timesNeeded, without, type Packed, type Rest, type Search } from './packing.ts';
import { DIVE_FRACTION, DIVE_NEAR_ENOUGH, DIVE_TOO_SHORT, TOO_SHORT } from '../solver/tolerances.ts';

/** Which of the fillings in use, in fractions, is taken next, of those of which there is not one whole. */
type Choose = (used: FractionalAnswer['used'], step: number) => FractionalAnswer['used'][number] | undefined;

/**
 * Dives once for a packing: whole numbers of fillings are taken as they are found in fractions, else one of them is taken
 * whole, and the rest worked anew, until the rest packs greedily. Undefined where it comes to nothing, or out of time.
 */
export async function dive(
  search: Search,
  start: Rest,
  choose: Choose = largest,
): Promise<Packed[] | undefined> {
  const taken: Packed[] = [];
  let rest = start;
  for (let step = 0; ; step++) {
    if (isEmpty(rest)) return taken;
    const greedy = greedyPacking(search.cutting, rest);
    if (greedy) return [...taken, ...greedy];
    const answer = await fractionsOf(search, rest, true);
    if (!answer || answer.bound > 1 + DIVE_TOO_SHORT) return undefined;
    const before = taken.length;
    for (const { fill, times } of answer.used) {
      const own = needed(fill, rest);
      const whole = Math.min(Math.floor(times + DIVE_FRACTION), timesNeeded(own, rest));
      if (whole < 1 || own.counts.every((count) => count === 0)) continue;
      taken.push({ fill: own, times: whole });
      rest = without(rest, { fill: own, times: whole });
    }
    if (taken.length > before) continue;
    const chosen = choose(answer.used, step);
    if (!chosen || !rest.lengths[chosen.fill.stock]) return undefined;
    const packed = { fill: needed(chosen.fill, rest), times: 1 };
    taken.push(packed);
    rest = without(rest, packed);
  }
}

/** The filling that is nearest to being there whole. */
export function largest(used: FractionalAnswer['used']): FractionalAnswer['used'][number] | undefined {
  return used.reduce<FractionalAnswer['used'][number] | undefined>(
    (best, one) => (!best || one.times > best.times + DIVE_FRACTION ? one : best),
    undefined,
  );
}

/**
 * The least share of the lengths that a rest takes in fractions, or that it takes more than all; `nearly`: near enough
 * for a dive.
 */
export async function fractionsOf(
  { cutting, control, pool }: Search,
  { counts, lengths }: Rest,
  nearly: boolean,
  shutOut: readonly Fill[] = [],
): Promise<FractionalAnswer | undefined> {
  const all = lengths.reduce((sum, many) => sum + many, 0);
  const enough = (least: number, bound: number) =>
    bound > 1 + TOO_SHORT || (nearly && least <= 1 && (least - bound) * all < DIVE_NEAR_ENOUGH);
  const common = { cutting, counts, by: 'at' as const, stocks: lengths, metres: [] };
  return leastFractions({ ...common, pool, shutOut, enough }, control);
}
