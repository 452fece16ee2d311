import type { Holdings } from './holdings.ts';
import type { Instance } from './instances.ts';
import type { Taken } from './stopwatch.ts';

/** Gaps, in percent of the cost, whose first time is kept. */
export const GAPS = ['0.1', '0.05', '0.01'] as const;
export type Gap = (typeof GAPS)[number];

/** What was taken from the call on, the job being read and the solver loaded. */
interface Common extends Instance, Taken {
  /** Of the clock on the wall. */
  limitSeconds: number;
  /** The most memory that the process held. */
  peakRssMb: number;
}

/** What the engine made of one instance, in a process of its own. Times within the solve are seconds of processor. */
export interface EngineRow extends Common {
  by: 'engine';
  holdings: Holdings;
  /** Before the call: from the job to the problem, seconds of processor. */
  readSeconds: number;
  proven: boolean;
  costMinor: number;
  /** Cost and bound in whole numbers of the problem’s scale, for comparing. */
  cost: string;
  bound: string;
  /** Of the cost, down to the bound. */
  gapPercent: number;
  /** The first answer, and how much of its cost is above the last one. */
  firstSeconds: number;
  firstGapPercent: number;
  /** The first answer within 1 % of the last. */
  withinOnePercentSeconds: number;
  /** When best answer and bound first came so near to each other; null: they did not. */
  gapSeconds: Record<Gap, number | null>;
}

/** What the model given straight to the solver made of it. */
export interface DirectRow extends Common {
  by: 'direct';
  proven: boolean;
  /** None where time ended before there was an answer. */
  costMinor: number | null;
  cost: string | null;
}

/** A run without an answer: it was killed well after its time, which counts as its seconds, or failed. */
export interface NoRow extends Omit<Common, 'peakRssMb'> {
  by: 'engine' | 'direct';
  proven: false;
  /** In words. */
  failed: string;
}

export type Row = EngineRow | DirectRow | NoRow;
