import type { Progress } from '../engine/model/control.ts';
import type { Finding } from '../engine/model/finding.ts';

/** What a thread is given. `stop` is one shared number: not 0 means that the work is no longer wanted. */
export interface Work {
  job: unknown;
  stop: SharedArrayBuffer;
}

/** The texts that a finished piece of work stores. */
export interface Worked {
  job: string;
  jobHash: string;
  result: string;
}

/** What a thread says back. */
export type Said =
  | { says: 'progress'; progress: Progress }
  | { says: 'done'; worked: Worked }
  | { says: 'cancelled' }
  | { says: 'notValid'; findings: Finding[] }
  | { says: 'failed'; name: string; message: string };
