import type { Bound } from './bound.ts';
import type { Multipliers } from './multipliers.ts';
import type { Ground } from './prices.ts';

/** A part of the search. */
export interface Node {
  ground: Ground;
  bound: number;
}

/** A node with the multipliers that gave its bound. */
export interface Worked extends Node {
  multipliers: Multipliers;
  at: Bound;
  sent: Float64Array;
}
