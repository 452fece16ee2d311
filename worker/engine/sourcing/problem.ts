import type { Exact } from '../units/money.ts';

/** What a supplier charges for sending goods of at least this value, up to the next band's. */
export interface Band {
  from: Exact;
  charge: Exact;
}

/** A supplier as the sourcing sees it. No bands: nothing is charged for sending. */
export interface SupplierTerms {
  code: string;
  bands: readonly Band[];
}

/** A need: so many pieces, or one continuous length of so many millimetres. */
export interface Demand {
  requirement: string;
  need: number;
  /** Bought from one offer alone (one continuous length); otherwise any mix of offers. */
  single: boolean;
  /** The choices that serve it, by their place in the problem's list. */
  choices: readonly number[];
}

/** An offer as the sourcing sees it: bought in whole units (packs, or steps of length). */
export interface Choice {
  offer: string;
  demand: number;
  supplier: number;
  /** Pieces in a pack, or millimetres in a step. */
  unit: number;
  /** Of one unit. */
  price: Exact;
  /** Fewest units, where any are bought. */
  minUnits: number;
}

/** Which offers to buy how much of, at the least delivered cost. Every demand has at least one choice. */
export interface Problem {
  demands: readonly Demand[];
  choices: readonly Choice[];
  suppliers: readonly SupplierTerms[];
}

/** Units of each choice, in the problem's order. */
export type Plan = readonly number[];
