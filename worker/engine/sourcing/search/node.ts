import type { Bound } from './bound.ts';
import type { Proof } from './certificate.ts';
import type { SharedInUse } from './master.ts';
import type { Multipliers } from './multipliers.ts';
import type { Ground } from './prices.ts';

/** A part of the search. */
export interface Node {
  ground: Ground;
  bound: number;
  /** Where its bound comes from. */
  by?: Proof | undefined;
}

/** A node with the multipliers that gave its bound. */
export interface Worked extends Node {
  multipliers: Multipliers;
  at: Bound;
  /** By parcel: how far the relaxation sends it, 0 to 1. */
  sent: Float64Array;
  shared: SharedInUse;
}
