import { gcd } from '../units/gcd.ts';
import type { Pieces } from './patterns.ts';

/** A length that can be bought. `wave`: the order it comes with (0 where there is none): earlier pieces cannot be cut of it. */
export interface Stock {
  usableMm: number;
  wave?: number;
}

/** A stock or piece in steps of the common measure. */
interface Size {
  size: number;
  wave: number;
}

/** Pieces to be cut and the lengths that they may come of, in whole steps of what all pieces have in common. */
export interface Cutting {
  stocks: readonly (Size & { mm: number })[];
  pieces: readonly (Size & { mm: number; count: number })[];
  /** The longest stock's size. */
  size: number;
  /** Tables over lengths of pieces times steps have no more entries than this; beyond it they are done without. */
  mostEntries: number;
}

/** Larger tables take longer than a search for the best filling does. */
const MOST_ENTRIES = 250_000;

/** The same lengths in the largest step that leaves the pieces as they are: no filling is gained or lost by it. */
export function cuttingOf(
  stocks: readonly Stock[],
  pieces: readonly Pieces[],
  mostEntries = MOST_ENTRIES,
): Cutting {
  const common = pieces.reduce((step, { mm }) => gcd(step, mm), 0) || 1;
  const inSteps = (mm: number) => Math.floor(mm / common);
  const longest = stocks.reduce((most, { usableMm }) => Math.max(most, usableMm), 0);
  return {
    stocks: stocks.map(({ usableMm, wave = 0 }) => ({ size: inSteps(usableMm), wave, mm: usableMm })),
    pieces: pieces.map(({ mm, count, wave = 0 }) => ({ size: mm / common, wave, mm, count })),
    size: inSteps(longest),
    mostEntries,
  };
}
