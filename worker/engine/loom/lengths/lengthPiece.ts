import type { Supply } from '../../model/supply.ts';
import type { Part } from '../../model/part.ts';
import type { Step } from '../../model/step.ts';

/** One piece that a loom needs of a part sold by length. */
export interface LengthPiece {
  part: Part | undefined;
  /** In words: "covering C3". */
  what: string;
  /** As findings name it: "covering:C3". */
  subject: string;
  supply: Supply;
  cut: { cutMm: number; steps: Step[] } | undefined;
  /** The wires that are cores of this cable. */
  cores?: string[];
  path: PropertyKey[];
  /** Why there is no part. */
  notChosen?: { code: string; why: string } | undefined;
  /** Whether nothing of a known diameter runs along its branches. */
  empty?: boolean;
}
