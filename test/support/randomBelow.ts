/** Whole numbers from 0 up to `limit`, by the linear congruential generator of Numerical Recipes (ranqd1). */
export function randomBelow(seed: number): (limit: number) => number {
  let state = seed >>> 0;
  return (limit) => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((state / 2 ** 32) * limit);
  };
}
