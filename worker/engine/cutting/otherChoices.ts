import type { FractionalAnswer } from './fractional.ts';

/**
 * A choice of its own among fillings that are used in fractions, for a dive after the first: the nearest to whole but for
 * chances of a generator of ours, each by its seed, so that the same question is always worked the same way.
 */
export function otherChoices(
  seed: number,
): (used: FractionalAnswer['used']) => FractionalAnswer['used'][number] | undefined {
  let state = seed >>> 0;
  // The linear congruential generator of Numerical Recipes (ranqd1).
  const next = () => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0) / 2 ** 32;
  return (used) => {
    let best: FractionalAnswer['used'][number] | undefined;
    let bestKey = -1;
    for (const one of used) {
      const key = one.times * (0.4 + 0.6 * next());
      if (key > bestKey) [best, bestKey] = [one, key];
    }
    return best;
  };
}
