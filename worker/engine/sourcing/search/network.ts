import type { Cut } from '../problem/problem.ts';
import type { Parcels } from './parcels.ts';

/** So many units of some choices. */
export type Lines = readonly { choice: number; units: number }[];

/** One way to be served by a link: so much of what is needed, for goods of so much value (minor units of the supplier's currency) and weight. */
export interface Step {
  gives: number;
  value: number;
  grams: number;
  lines: Lines;
  cuts?: readonly Cut[];
}

/** What one supplier in one order has for one requirement; or what a shared choice may give to it, a piece at a time. */
export interface Link {
  requirement: number;
  supplier: number;
  /** The first stage of the requirement that it can serve. */
  stage: number;
  /** Of pieces out of a shared choice: its place in the network's list. */
  shared: number | undefined;
  /** What its steps are made of. A choice whose stock others have too stands in a link of its own. */
  choices: readonly number[];
  steps: readonly Step[];
}

/** A requirement as the search sees it, in the problem's order: plans meet it out of its links, a step of each at the most. */
export interface NetworkRequirement {
  /** What must be there by each stage (order), in all at the last; the links of a stage come one after the other. */
  needs: readonly number[];
  /** Needs and what is given are counted in so many pieces, or mm. */
  unit: number;
  links: readonly number[];
  /** All comes out of the links of one of these lists. */
  scopes: readonly (readonly number[])[];
  /**
   * Whether its plans only stand for what is bought: of what is cut, that there is as much as all pieces are long. What is
   * best is then for the whole-number model to say.
   */
  isLoose: boolean;
  /** Whether any mix of what its links give will do. */
  isSum: boolean;
  when: readonly number[] | undefined;
}

/** A choice that serves several requirements at once: bought whole, its pieces given to these. */
export interface SharedChoice {
  choice: number;
  supplier: number;
  /** Amounts that can be worth buying: all ends of prices. Value and weight in floating point. */
  amounts: readonly { units: number; value: number; grams: number }[];
  /** Of a unit's pieces, these requirements can have so many together. */
  capacities: readonly { requirements: readonly number[]; each: number }[];
}

/** Units of some choices of which there are so many in all. */
export interface StockRow {
  choices: ReadonlySet<number>;
  mostUnits: number;
}

/** The problem in flat numbers, for bounds. */
export interface Network {
  parcels: Parcels;
  /** By supplier: its code; '' of the own shelf. */
  codes: readonly string[];
  requirements: readonly NetworkRequirement[];
  /** Those of the requirements, then those of ready plans. */
  links: readonly Link[];
  /** By requirement that is loose: plans that can be bought as they are, out of links of their own. */
  ready: readonly (readonly { link: number; step: number }[][])[];
  shared: readonly SharedChoice[];
  stock: readonly StockRow[];
  groups: readonly (readonly number[])[];
  atMostSuppliers: number;
  insistOn: readonly string[];
}
