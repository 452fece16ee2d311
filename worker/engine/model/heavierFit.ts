import type { Fit, FitStatus } from './fit.ts';

const WEIGHT: Record<FitStatus, number> = { proposed: 0, confirmed: 1, refuted: 2 };

/** Of two fits that become one, the one that says more: refuted outweighs confirmed, and that proposed; else the first. */
export function heavierFit(one: Fit, other: Fit): Fit {
  return WEIGHT[other.status] > WEIGHT[one.status] ? other : one;
}
