import type { Job } from '../../../../worker/engine/model/job.ts';
import type { Random } from '../../random.ts';
import type { RuleName } from '../rules.ts';

/** A kind of instance, and the rules that it is about. */
export interface Theme {
  name: string;
  rules: readonly RuleName[];
  make(random: Random): Job;
}

/** Names of up to three suppliers. */
export const shopsOf = (random: Random, least = 2) =>
  ['north', 'south', 'west'].slice(0, random.whole(least, 3));
