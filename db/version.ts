import { and, eq, or, sql, type SQL } from 'drizzle-orm';
import type { PgColumn } from 'drizzle-orm/pg-core';

/** Which state of a row somebody read: its number, and the life of the row, since a code may be given up and used again. */
export interface Version {
  number: number;
  /** When the row was made, ms. */
  born: number;
}

/** Which states of a row may be changed: any of those named, or whichever is there. */
export type Changeable = readonly Version[] | 'any';

export function versionOf(row: { version: number; createdAt: Date }): Version {
  return { number: row.version, born: row.createdAt.getTime() };
}

export function isVersion(row: { version: number; createdAt: Date }, read: Changeable): boolean {
  return (
    read === 'any' ||
    read.some(({ number, born }) => row.version === number && row.createdAt.getTime() === born)
  );
}

/** The same as a condition on the row's columns; none where any state will do. */
export function versionIn(
  columns: { version: PgColumn; createdAt: PgColumn },
  read: Changeable,
): SQL | undefined {
  if (read === 'any') return undefined;
  if (read.length === 0) return sql`false`;
  return or(
    ...read.map(({ number, born }) =>
      and(eq(columns.version, number), eq(columns.createdAt, new Date(born))),
    ),
  );
}
