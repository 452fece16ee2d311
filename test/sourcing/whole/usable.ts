import type { Job } from '../../../worker/engine/model/job.ts';
import type { Rules } from './rules.ts';

type FixedLength = Extract<Job['offers'][number], { form: 'length' }>;

/** What can be cut from one fixed length, mm. */
export function usableMm(offer: FixedLength, rules: Rules): number {
  // A percentage has at most 4 decimals.
  const kept = rules.tolerance ? 1_000_000 - Math.round(offer.tolerancePercent * 10_000) : 1_000_000;
  return Math.floor((offer.nominalMm * kept) / 1_000_000) - (rules.endLoss ? offer.endLossMm : 0);
}
