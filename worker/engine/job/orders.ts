import type { Job } from '../model/job.ts';
import { waveOf } from '../model/request.ts';

/** How many orders a request has. */
export function wavesOf({ request }: Pick<Job, 'request'>): number {
  return request.looms.reduce((most, line) => Math.max(most, waveOf(line)), 1);
}
