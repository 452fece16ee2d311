import { Job } from '../../../worker/engine/model/job.ts';
import { shopsJob } from '../../bench/shops.ts';

const SMALL = { requirements: 12, suppliers: 5, offers: 60 } as const;

/** The bench’s families in small: packs, postage and minimum orders alone. Even places have correlated prices. */
export const PLAIN_SHOPS = Array.from({ length: 80 }, (_, index) => index + 1);

export function plainShopsJob(place: number): Job {
  return Job.parse(shopsJob({ ...SMALL, correlated: place % 2 === 0, seed: Math.ceil(place / 2) }));
}
