import { percentUp } from '../units/decimal.ts';
import { minorToAmount } from '../units/money.ts';
import type { Figures } from './control.ts';

/** What the solver knows, in minor units; of the two either may not be known yet. */
export interface Known {
  best: number | undefined;
  bound: number | undefined;
}

/** The solver's noise, minor units: what is nearer to a whole amount than this is that amount. */
const NOISE = 1e-6;

/**
 * Figures of what the solver tells, one after the other: the best only ever falls, the bound only ever rises, and is
 * never above the best. Nothing while no mix is known: until then a bound may be of a mix that meets all, which there need
 * not be.
 */
export function figuresKept(currency: string): (known: Known) => Figures | undefined {
  let best: bigint | undefined;
  let bound: bigint | undefined;
  return (known) => {
    // Up and down to whole minor units, so that neither says more than is known.
    if (known.best !== undefined) best = least(best, BigInt(Math.ceil(known.best - NOISE)));
    if (best === undefined) return undefined;
    if (known.bound !== undefined) {
      const floor = BigInt(Math.max(0, Math.floor(known.bound + NOISE)));
      if (bound === undefined || floor > bound) bound = floor;
    }
    const amount = (minor: bigint) => minorToAmount(minor, currency);
    if (bound === undefined) return { currency, best: amount(best) };
    const under = least(bound, best);
    return { currency, best: amount(best), bound: amount(under), gapPercent: percentUp(best - under, best) };
  };
}

function least(a: bigint | undefined, b: bigint): bigint {
  return a !== undefined && a < b ? a : b;
}
