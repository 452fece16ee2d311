import type { Pieces, Pattern } from '../../cutting/patterns.ts';
import type { Exact, Scale } from '../../units/money.ts';

export type ChargeKind =
  'goods' | 'postage' | 'handling' | 'tax' | 'duty' | 'importTax' | 'clearance' | 'nuisance';

/** One thing that a parcel costs: so much, and so much for each exact unit of its goods. In the problem's scale. */
export interface Charge {
  kind: ChargeKind;
  fixed: Exact;
  rate: bigint;
}

/**
 * A delivery band: for goods of at least this value and weight, up to where the next begins, a fixed charge and a rate.
 * Values are at the supplier's stated prices, in its own currency; charge and rate lead to the club's, in the problem's
 * scale. Postage by value or weight, minimum orders, handling, rates of exchange, tax, duty and their thresholds all come
 * down to these; a value below every band cannot be ordered.
 */
export interface Band {
  from: Exact;
  /** Below this value; undefined: no end. */
  below: Exact | undefined;
  fromMicrograms: number;
  belowMicrograms: number | undefined;
  charge: Exact;
  rate: bigint;
  /** What charge and rate are made of. */
  charges: readonly Charge[];
}

/** A supplier in one order, as the sourcing sees it: one parcel. */
export interface SupplierTerms {
  code: string;
  /** With which order, from 1; 0 of the shelf. */
  wave: number;
  /** The buyer's own shelf: it is no supplier, and sends no parcel. */
  own: boolean;
  /** One at least. */
  bands: readonly Band[];
}

/** A price a unit from so many units on, for all of them: exact, in the supplier's currency. */
export interface Tier {
  fromUnits: number;
  price: Exact;
}

/** An offer in one order, as the sourcing sees it: bought in whole units (packs, kits, lengths, or steps of one continuous length). */
export interface Choice {
  /** The offer's code; of the own shelf the item's. */
  offer: string;
  supplier: number;
  /** With which order, from 1; 0: on the shelf before all of them. */
  wave: number;
  form: 'pack' | 'kit' | 'metre' | 'length';
  /** What a unit gives to which requirements: pieces, or usable millimetres. */
  serves: readonly { requirement: number; each: number }[];
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
 * A requirement. `sum`: so many pieces, or metres of what may be joined, from any mix of offers; the problem's covers say how
 * much. `single`: one continuous length from one offer. `cut`: whole pieces out of fixed lengths, beside them at most one
 * continuous length an order, or `several`; by all patterns, or, where these are too many, by counts of lengths that the cutting judges.
 */
export interface Requirement {
  /** Of the rolled-up requirement; one for each family that may serve it has the same. */
  id: string;
  /** How much: pieces, or mm. */
  need: number;
  how: 'sum' | 'single' | 'cut';
  /** Longest first; empty for a sum. */
  pieces: readonly Pieces[];
  oneSupplier: boolean;
  /** cut: one continuous length is too short beside all fixed ones: several of an order may be bought, one of each offer. */
  several?: true | undefined;
  /** Counts only while one of these options is chosen; undefined: always. */
  when: readonly number[] | undefined;
  /** The choices that serve it, by their place in the problem's list. */
  choices: readonly number[];
  /** cut: the patterns of each fixed length among the choices; undefined where they are too many. */
  patterns: ReadonlyMap<number, readonly Pattern[]> | undefined;
  /** cut: some ways to do it, to start from. */
  ways: readonly CutWay[];
}

/**
 * So much must be bought of some choices for what some requirements need by some order. What may stand in for one requirement and
 * is needed for another itself is counted once: then there is a cover for each of these alone and one for them together.
 */
export interface Cover {
  members: readonly { requirement: number; need: number; when: number | undefined }[];
  gives: readonly { choice: number; each: number }[];
}

/**
 * Requirements that share what serves them, with all that it gives: what waste is counted by. There a unit `counts` what it
 * gives; but a length that is bought counts alike whatever its size, so that none is worse for being longer.
 */
export interface Pool {
  requirements: readonly number[];
  need: number;
  gives: readonly { choice: number; each: number; counts: number }[];
}

/** What comes out of bought lengths of one choice. */
export interface Cut {
  choice: number;
  lengths: number;
  pieces: readonly Pieces[];
}

/** One way to meet a requirement whole: so many units of these choices, cut so. */
export interface CutWay {
  units: readonly { choice: number; units: number }[];
  cuts: readonly Cut[];
}

/** Which offers to buy how much of, at the least delivered cost. */
export interface Problem {
  /** Costs are whole numbers of this scale. */
  scale: Scale;
  requirements: readonly Requirement[];
  covers: readonly Cover[];
  pools: readonly Pool[];
  /** Of each group exactly one option is chosen: which family serves. Options are numbered through all groups. */
  groups: readonly (readonly number[])[];
  choices: readonly Choice[];
  suppliers: readonly SupplierTerms[];
  /** One offer's choices of several orders, of which there are so many units in all. */
  sharedStock: readonly { choices: readonly number[]; mostUnits: number }[];
  /** At most so many different suppliers. */
  atMostSuppliers: number | undefined;
  /** From each of these something is bought where it can be, by code. */
  insistOn: readonly string[];
}

/**
 * What to buy: units of each choice, in the problem's order; how lengths are cut, by requirement; requirements left unmet; suppliers
 * insisted on from whom nothing comes; options chosen.
 */
export interface Plan {
  units: readonly number[];
  cuts: readonly (readonly Cut[])[];
  unmet: readonly number[];
  without: readonly string[];
  options: readonly number[];
}

/** Whether a requirement counts where these options are chosen. */
export function isActive({ when }: Pick<Requirement, 'when'>, options: readonly number[]): boolean {
  return when === undefined || when.some((option) => options.includes(option));
}
