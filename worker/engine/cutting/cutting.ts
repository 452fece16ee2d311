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

/** Pieces to be cut and the lengths that they may come of, in whole steps of `stepMm`. */
export interface Cutting {
  stocks: readonly (Size & { mm: number })[];
  pieces: readonly (Size & { mm: number; count: number })[];
  /** The longest stock's size. */
  size: number;
  /**
   * Whether a filling in steps is one in mm. If not, pieces are rounded down to steps: what cannot be done in steps
   * cannot be done at all, but not the other way round.
   */
  exact: boolean;
}

/** Tables over lengths of pieces times steps are kept to so many entries. */
const MOST_ENTRIES = 4_000_000;

/** How lengths are put in steps where these are coarser than the lengths: pieces rounded down, or up to be sure that they fit. */
export type Rounding = 'down' | 'up';

/** The same lengths in the largest step that leaves them as they are, or, where tables would be too large, a coarser one. */
export function cuttingOf(
  stocks: readonly Stock[],
  pieces: readonly Pieces[],
  rounding: Rounding = 'down',
): Cutting {
  const common = pieces.reduce((step, { mm }) => gcd(step, mm), 0) || 1;
  const longest = stocks.reduce((most, { usableMm }) => Math.max(most, usableMm), 0);
  const steps = Math.floor(longest / common) + 1;
  const coarse = Math.max(1, Math.ceil((steps * (pieces.length + 1)) / MOST_ENTRIES));
  const inSteps = (mm: number) => Math.floor(Math.floor(mm / common) / coarse);
  const pieceInSteps = (mm: number) => (rounding === 'up' ? Math.ceil(mm / common / coarse) : inSteps(mm));
  return {
    stocks: stocks.map(({ usableMm, wave = 0 }) => ({ size: inSteps(usableMm), wave, mm: usableMm })),
    pieces: pieces.map(({ mm, count, wave = 0 }) => ({ size: pieceInSteps(mm), wave, mm, count })),
    size: inSteps(longest),
    exact: coarse === 1,
  };
}

/** The same in steps of a mm, for what asks for no tables. */
export function inMm(stocks: readonly Stock[], pieces: readonly Pieces[]): Cutting {
  return {
    stocks: stocks.map(({ usableMm, wave = 0 }) => ({ size: usableMm, wave, mm: usableMm })),
    pieces: pieces.map(({ mm, count, wave = 0 }) => ({ size: mm, wave, mm, count })),
    size: stocks.reduce((most, { usableMm }) => Math.max(most, usableMm), 0),
    exact: true,
  };
}
