import { and, eq, inArray, sql, type SQL } from 'drizzle-orm';
import { expect, vi } from 'vitest';
import type { Database } from '../../db/connect.ts';
import { audit, tasks } from '../../db/schema/index.ts';
import { asSystem } from '../../db/system.ts';
import { readTasks, type Task } from '../../db/tasks.ts';
import type { Settings } from '../../worker/engine/model/settings.ts';
import type { Client } from './client.ts';

/** Asks for a quote of one loom and gives the ids of the quote and its task. */
export async function askQuote(
  member: Pick<Client, 'post'>,
  loom: string,
  settings: Settings = {},
): Promise<{ quote: string; task: string }> {
  const got = await member.post('/v1/quotes', { looms: [{ loom, quantity: 1 }], settings });
  expect(got.status).toBe(202);
  const body = got.json<{ id: string; task: string }>();
  return { quote: body.id, task: body.task.split('/').at(-1) ?? '' };
}

export async function taskRow(database: Database, id: string): Promise<Task> {
  const [task] = await readTasks(database, [id]);
  if (!task) throw new Error(`there is no task ${id}`);
  return task;
}

/** Waits until a task is as the test wants it; fails with the task as it is at the end of the time. */
export function untilTask(
  database: Database,
  id: string,
  wanted: Partial<Pick<Task, 'state' | 'attempts' | 'lost' | 'crashed'>>,
  timeout = 30_000,
): Promise<Task> {
  return vi.waitFor(
    async () => {
      const task = await taskRow(database, id);
      expect(task).toMatchObject(wanted);
      return task;
    },
    { timeout, interval: 25 },
  );
}

/** Waits until the solver is at a task. */
export function untilSolving(database: Database, id: string): Promise<Task> {
  return vi.waitFor(
    async () => {
      const task = await taskRow(database, id);
      expect(task).toMatchObject({ state: 'running', progress: { phase: 'sourcing' } });
      return task;
    },
    { timeout: 30_000, interval: 25 },
  );
}

/** Sets columns of a task, as time does: to move it back instead of waiting. */
export async function setTask(
  database: Database,
  id: string,
  values: Partial<Pick<Task, 'attempts' | 'lost' | 'crashed' | 'alone'>> & {
    leaseUntil?: SQL;
    wokenAt?: SQL;
  },
): Promise<void> {
  await asSystem(database, (tx) => tx.update(tasks).set(values).where(eq(tasks.id, id)));
}

/** Ends whatever is open, so that the next task that is asked for is the only one that a worker can take. */
export async function endOpenTasks(database: Database): Promise<void> {
  await asSystem(database, (tx) =>
    tx
      .update(tasks)
      .set({ state: 'cancelled', leaseToken: null, leaseUntil: null })
      .where(inArray(tasks.state, ['queued', 'running'])),
  );
}

export const anHourAgo = sql`now() - interval '1 hour'`;

/** What the database's clock says. */
export function databaseNow(database: Database): Promise<Date> {
  return asSystem(database, async (tx) => {
    const [row] = await tx
      .select({ at: sql`clock_timestamp()`.mapWith(tasks.createdAt) })
      .from(sql`(values (1)) as one`);
    if (!row) throw new Error('the database tells no time');
    return row.at;
  });
}

/** How often the audit says this of a task. */
export function timesRecorded(database: Database, action: string, task: string): Promise<number> {
  return asSystem(database, async (tx) => {
    const rows = await tx
      .select({ id: audit.id })
      .from(audit)
      .where(and(eq(audit.action, action), eq(audit.subject, task)));
    return rows.length;
  });
}
