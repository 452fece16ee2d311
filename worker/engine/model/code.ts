import { z } from 'zod';
import { LIMITS } from './limits.ts';

/** A name that the user chooses for a part, supplier, offer, loom, or for something inside a loom. Safe in a URL. */
export const Code = z
  .string()
  .max(LIMITS.codeLength)
  .regex(
    /^[A-Za-z0-9][A-Za-z0-9._-]*$/,
    'a code starts with a letter or digit and holds letters, digits, dot, dash and underscore',
  )
  .meta({
    id: 'Code',
    description: 'A name of your choice, unique in the club and never changed.',
    example: 'ring-6-15',
  });
export type Code = z.infer<typeof Code>;

export const Name = z.string().trim().min(1).max(LIMITS.nameLength).meta({ example: 'Tail lamp, left' });
export const Note = z.string().max(LIMITS.noteLength).meta({ example: 'as on the old loom' });

/** A country, by its two letters of ISO 3166-1. */
export const Country = z
  .string()
  .regex(/^[A-Z]{2}$/, 'two capital letters as in ISO 3166-1')
  .meta({ example: 'GB' });

/** A calendar day, YYYY-MM-DD. */
export const Day = z.iso
  .date()
  .refine((day) => day >= '0001', 'a year is 0001 or later')
  .meta({ id: 'Day', description: 'A calendar day, YYYY-MM-DD.', example: '2026-11-02' });

/** Byte order: the one order in which codes are sorted, the same in the engine, the database and on paper. */
export function byCode(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}

/** Whole millimetres within a limit. */
export const mm = (max: number, min = 0) => z.int().min(min).max(max);
/** A decimal millimetre figure of a part (bore, diameter, strand), above zero. */
export const partMm = z.number().positive().max(10_000);
export const count = (min = 0, max: number = LIMITS.count) => z.int().min(min).max(max);
/** A percentage as people say it: 3 is three percent. At most 4 decimals, so that sums stay exact. */
export const percent = z
  .number()
  .min(0)
  .max(LIMITS.percent)
  .refine((value) => Math.round(value * 1e4) / 1e4 === value, 'a percentage has at most 4 decimals');
