import { decisive } from './decisive.ts';
import { faultOf, isEqual, isProven, judged } from './engineOn.ts';
import type { Outcome } from './cheapest.ts';
import { INSTANCES, seeds } from './instances.ts';
import type { RuleName } from './rules.ts';

/** Each rule decides so many of the instances at the least. */
const DECIDED_AT_LEAST = 40;

interface WholeProof {
  instances: number;
  /** With as few requirements unmet, at the same unrounded cost, by a purchase that is allowed and costs that. */
  equal: number;
  proven: number;
  decisive: Record<RuleName, number>;
}

/**
 * The engine against trying every purchase, on all instances. Throws where a rule decides too few of them, as then they
 * would not show that the engine keeps it.
 */
export async function wholeProof(): Promise<WholeProof> {
  const best = new Map<number, Outcome>();
  let equal = 0;
  let proven = 0;
  for (const seed of seeds) {
    const found = await judged(seed).catch((error: unknown) => String(error));
    if (typeof found === 'string') {
      console.log(`instance ${seed}: ${found}`);
      continue;
    }
    best.set(seed, found.best);
    const fault = isEqual(found) ? faultOf(found) : 'it is not the cheapest';
    if (fault === undefined) equal += 1;
    else console.log(`instance ${seed}: ${fault}`);
    if (isProven(found)) proven += 1;
  }
  const decided = decisive(seeds, (seed) => best.get(seed));
  const few = Object.entries(decided).filter(([, count]) => count < DECIDED_AT_LEAST);
  if (few.length > 0)
    throw new Error(`rules that decide too few instances: ${few.map((row) => row.join(' ')).join(', ')}`);
  return { instances: INSTANCES, equal, proven, decisive: decided };
}
