import { documentText } from '../engine/model/canonical.ts';

/** A stored result that waits for what lies beside the cheapest, told that this does not come, and why. */
export function withoutBeside(result: string, why: 'cancelled' | 'failed'): string {
  return documentText({ ...(JSON.parse(result) as object), besideState: why });
}
