import type { JobInput } from '../../worker/engine/model/job.ts';
import { cuttingJob } from './cutting.ts';
import { coloursJob, reelsJob } from './wires.ts';

/** Families of which nothing but lengths to be cut is needed. */
export const CUTTING = {
  cutting: cuttingJob,
  reels: reelsJob,
  colours: coloursJob,
} as const satisfies Record<string, (seed: number) => JobInput>;
export type Family = keyof typeof CUTTING;

export function isCutting(family: string): family is Family {
  return family in CUTTING;
}
