import type { Pieces, Pattern } from '../cutting/patterns.ts';
import type { Exact } from '../units/money.ts';

/**
 * A delivery band: for goods of at least this value and weight, up to where the next begins, a fixed charge. Minimum
 * orders, handling and postage by value or weight all come down to these; a value below every band cannot be ordered.
 */
export interface Band {
  from: Exact;
  /** Below this value; undefined: no end. */
  below: Exact | undefined;
  fromMicrograms: number;
  belowMicrograms: number | undefined;
  charge: Exact;
}

/** A supplier as the sourcing sees it. No bands: nothing is charged, and anything may be ordered. */
export interface SupplierTerms {
  code: string;
  bands: readonly Band[];
  /** The part of every charge that is handling. */
  handling: Exact;
}

/** A price a unit from so many units on, for all of them. */
export interface Tier {
  fromUnits: number;
  price: Exact;
}

/** An offer as the sourcing sees it: bought in whole units (packs, kits, lengths, or steps of one continuous length). */
export interface Choice {
  offer: string;
  supplier: number;
  form: 'pack' | 'kit' | 'metre' | 'length';
  /** What a unit gives to which demands: pieces, or usable millimetres. */
  serves: readonly { demand: number; each: number }[];
  /** Ascending; the first begins at the fewest units that are sold. */
  tiers: readonly Tier[];
  /** Units are a multiple of this. */
  step: number;
  /** Most units that there are. */
  mostUnits: number | undefined;
  microgramsPerUnit: number;
  /** Pieces in a kit, needed or not; 1 of anything else. */
  piecesPerUnit: number;
}

/**
 * A need. `sum`: so many pieces, or metres of what may be joined, from any mix of offers. `single`: one continuous length
 * from one offer. `cut`: whole pieces out of fixed lengths, beside them at most one continuous length; by all patterns,
 * or, where these are too many, by ready-made ways of cutting.
 */
export interface Demand {
  requirement: string;
  need: number;
  how: 'sum' | 'single' | 'cut';
  /** Longest first; empty for a sum. */
  pieces: readonly Pieces[];
  oneSupplier: boolean;
  /** The choices that serve it, by their place in the problem's list. */
  choices: readonly number[];
  /** cut: the patterns of each fixed length among the choices; undefined where they are too many. */
  patterns: ReadonlyMap<number, readonly Pattern[]> | undefined;
  /** cut: some ways to do it, to start from; where there are no patterns, all that there is to choose from. */
  ways: readonly CutWay[];
}

/** What comes out of bought lengths of one choice. */
export interface Cut {
  choice: number;
  lengths: number;
  pieces: readonly Pieces[];
}

/** One way to meet a demand whole: so many units of these choices, cut so. */
export interface CutWay {
  units: readonly { choice: number; units: number }[];
  cuts: readonly Cut[];
}

/** Which offers to buy how much of, at the least delivered cost. */
export interface Problem {
  demands: readonly Demand[];
  choices: readonly Choice[];
  suppliers: readonly SupplierTerms[];
}

/** What to buy: units of each choice, in the problem's order; how lengths are cut, by demand; demands left unmet. */
export interface Plan {
  units: readonly number[];
  cuts: readonly (readonly Cut[])[];
  unmet: readonly number[];
}
