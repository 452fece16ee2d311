import type { Progress } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';

/**
 * What a thread is given: a job to price, or one whose loom is to be checked. `stop` is one shared number: not 0 means
 * that the work is no longer wanted.
 */
export interface Work {
  kind: 'price' | 'check';
  job: unknown;
  stop: SharedArrayBuffer;
}

/** The texts that a priced job stores. */
export interface Worked {
  job: string;
  jobHash: string;
  result: string;
}

/** What a thread says back. `checked` carries the Checks document as it is served; `stopped` at most the first findings. */
export type Said =
  | { says: 'progress'; progress: Progress }
  | { says: 'done'; worked: Worked }
  | { says: 'checked'; checks: string }
  | { says: 'cancelled' }
  | { says: 'notValid'; findings: Finding[] }
  | { says: 'stopped'; findings: Finding[]; count: number }
  | { says: 'failed'; name: string; message: string };
