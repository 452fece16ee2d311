import { z } from 'zod';
import { count } from '../../worker/engine/model/code.ts';

/** What the lines of an archive are made of. */

/** To the millisecond, so that a moment is written as it was read; the databases take no year 0. */
export const Moment = z.iso
  .datetime({ precision: 3 })
  .refine((at) => at >= '1970', 'a year is 1970 or later');
export const Id = z
  .string()
  .regex(/^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/, 'an id is a UUID in small letters');
export const Words = z.string().max(500);
export const Number32 = count(1, 2 ** 31 - 2);
