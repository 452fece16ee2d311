import { and, eq, lt, sql } from 'drizzle-orm';
import { tasks } from './schema/index.ts';

/** So many milliseconds from now, by the database's clock. */
export const inMs = (ms: number) => sql<Date>`now() + ${ms} * interval '1 millisecond'`;

/** The task of this lease, while it is held. */
export const holds = (token: string) => and(eq(tasks.leaseToken, token), eq(tasks.state, 'running'));

/** A task whose worker has given no sign of life for a whole lease. */
export const expired = () => and(eq(tasks.state, 'running'), lt(tasks.leaseUntil, sql`now()`));
