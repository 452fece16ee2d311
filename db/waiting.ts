import { eq, sql } from 'drizzle-orm';
import type { Database } from './connect.ts';
import { tasks } from './schema/index.ts';
import { asSystem } from './system.ts';

/** How many tasks of all clubs wait for a worker, and how long the oldest has waited: 0 where none waits. */
export function waitingTasks(database: Database): Promise<{ count: number; oldestSeconds: number }> {
  return asSystem(database, async (tx) => {
    const [waiting] = await tx
      .select({
        count: sql<number>`count(*)::int`,
        oldestSeconds: sql<number>`coalesce(extract(epoch from now() - min(${tasks.createdAt})), 0)::float8`,
      })
      .from(tasks)
      .where(eq(tasks.state, 'queued'));
    return { count: Number(waiting?.count ?? 0), oldestSeconds: Number(waiting?.oldestSeconds ?? 0) };
  });
}
