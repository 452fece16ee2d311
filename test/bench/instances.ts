import type { JobInput } from '../../worker/engine/model/job.ts';
import { cuttingJob } from './cutting.ts';
import { FAMILIES as SHOPS, shopsJob, type Family as ShopsFamily } from './shops.ts';

export type Family = ShopsFamily | 'cutting';

/** In the order in which they are run. */
export const FAMILIES: readonly Family[] = ['loom', 'wide', 'pool', 'widest', 'cutting'];

/** How prices lie; pieces to be cut have but one way. */
export type Prices = 'plain' | 'correlated';
export const pricesOf = (family: Family): readonly Prices[] =>
  family === 'cutting' ? ['plain'] : ['plain', 'correlated'];

/** As tables name it. */
export const nameOf = (family: Family, prices: Prices) =>
  pricesOf(family).length > 1 ? `${family}, ${prices}` : family;

/** One of the fixed instances. */
export interface Instance {
  family: Family;
  prices: Prices;
  seed: number;
}

export function isFamily(name: string): name is Family {
  return (FAMILIES as readonly string[]).includes(name);
}

/** The instance as a job; the same one makes the same job. */
export function benchJob({ family, prices, seed }: Instance): JobInput {
  return family === 'cutting'
    ? cuttingJob(seed)
    : shopsJob({ ...SHOPS[family], correlated: prices === 'correlated', seed });
}
