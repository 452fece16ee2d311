import type { Relaxation } from './dual.ts';

/** A seller's steps that meet a part of a need alone, at the prices of the last look. */
export interface Offered {
  link: number;
  steps: { gives: number; cost: number; step: number }[];
}

/**
 * What a block can be given in part, by those steps that cost no more than the limit; and the least that a piece costs so.
 */
export function partialSteps(
  { network, slope, fixed }: Relaxation,
  block: number,
  limit: number,
): { offered: Offered[]; dearness: number } {
  const { need } = network.blocks[block]!;
  const offered: Offered[] = [];
  let dearness = Infinity;
  for (const link of network.linksOfBlock[block]!) {
    if (fixed[link] === Infinity) continue;
    const steps = network.steps[link]!.flatMap(({ gives, value }, step) => {
      const cost = slope[link]! * value + fixed[link]!;
      return gives < need && cost <= limit ? [{ gives, cost, step }] : [];
    });
    if (steps.length === 0) continue;
    for (const { gives, cost } of steps) dearness = Math.min(dearness, cost / gives);
    offered.push({ link, steps });
  }
  return { offered, dearness };
}
