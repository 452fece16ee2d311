/** Mulberry32: a small generator of even random numbers, the same for the same seed on every machine. */
export interface Random {
  /** A whole number from `low` to `high`, both included. */
  whole(low: number, high: number): number;
  /** True in about so many of a hundred draws. */
  percent(chance: number): boolean;
  pick<T>(items: readonly T[]): T;
}

export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  const whole = (low: number, high: number) => low + Math.floor(next() * (high - low + 1));
  return {
    whole,
    percent: (chance) => next() * 100 < chance,
    pick: (items) => {
      const item = items[whole(0, items.length - 1)];
      if (item === undefined) throw new RangeError('nothing to pick from');
      return item;
    },
  };
}
