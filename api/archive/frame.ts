import { z } from 'zod';
import { ENTRY_TYPES, type EntryType } from '../../db/archive/entries.ts';

export const ARCHIVE_FORMAT = 'loomwright-archive';
export const ARCHIVE_VERSION = 1;

/** The first line. */
export const Header = z.strictObject({
  format: z.literal(ARCHIVE_FORMAT),
  version: z.literal(ARCHIVE_VERSION),
  club: z.string().max(200),
  exportedAt: z.iso.datetime(),
});
export type Header = z.infer<typeof Header>;

/** An archive that was written before there were entries of a type counts none of it. */
const counts = Object.fromEntries(
  ENTRY_TYPES.map((type) => [type, z.int().min(0).default(0)]),
) as unknown as Record<EntryType, z.ZodDefault<z.ZodInt>>;

/** The last line: how many entries of each type there are, and the SHA-256 of their lines, each with its line end. */
export const Trailer = z.strictObject({
  type: z.literal('end'),
  counts: z.strictObject(counts),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});
export type Trailer = z.infer<typeof Trailer>;

export type Counts = Record<EntryType, number>;

export function noneYet(): Counts {
  return Object.fromEntries(ENTRY_TYPES.map((type) => [type, 0])) as Counts;
}
