import { documentText } from '../engine/model/canonical.ts';
import type { Result } from '../engine/model/result.ts';

/**
 * A stored result that waits for what lies beside the cheapest, or for the comparison with looms bought made, told that this
 * does not come, and why.
 */
export function withoutBeside(result: string, why: 'cancelled' | 'failed'): string {
  const known = JSON.parse(result) as Partial<Pick<Result, 'besideState' | 'buildOrBuyState'>>;
  return documentText({
    ...known,
    ...(known.besideState ? { besideState: why } : {}),
    ...(known.buildOrBuyState ? { buildOrBuyState: why } : {}),
  });
}
