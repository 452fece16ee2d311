import { and, count, eq, inArray, sql, type SQL } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { Progress } from '../worker/engine/model/control.ts';
import { privateToOf, record, seeingAll, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { Conflict, NotFound, StoreError } from './errors.ts';
import { holds, inMs } from './lease.ts';
import { TASK_KINDS, TASK_STATES, tasks, type TaskProblem, type TaskState } from './schema/index.ts';
import { asSystem } from './system.ts';

export { TASK_KINDS, TASK_STATES };

export type Task = typeof tasks.$inferSelect;

const released = { leaseToken: null, leaseUntil: null } as const;

/** The club has as many tasks waiting as it may. */
export class QueueFull extends StoreError {
  constructor(most: number) {
    super(
      `${most} tasks of your club are waiting for a worker. That is the limit of this server. Nothing was stored. Try again when some are done, or cancel some: POST /v1/tasks/{id}/cancel.`,
    );
  }
}

/**
 * Error: QueueFull where so many tasks of the club wait. Requests at the very same moment do not see one another: so many
 * may exceed it.
 */
export async function requireRoom({
  ctx,
  input: { most },
}: {
  ctx: Ctx;
  input: { most: number };
}): Promise<void> {
  const [waiting] = await seeingAll(ctx, ({ tx, club }) =>
    tx
      .select({ count: count() })
      .from(tasks)
      .where(and(eq(tasks.clubId, club), eq(tasks.state, 'queued'))),
  );
  if ((waiting?.count ?? 0) >= most) throw new QueueFull(most);
}

/** A new task of a quote, waiting for a worker, and seen as the quote is; of an offer's price, with the offer. */
export async function newTask({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: Pick<Task, 'subject' | 'ownerId' | 'private'> &
    ({ kind: 'quote' } | { kind: 'winningPrice'; offerCode: string });
}): Promise<Task> {
  const createdAt = ctx.now();
  const [task] = await ctx.tx
    .insert(tasks)
    .values({
      clubId: ctx.club,
      id: ctx.newId(),
      ...input,
      state: 'queued',
      wokenAt: createdAt,
      createdAt,
      progress: { phase: 'loading', message: 'Waiting for a worker.' },
    })
    .returning();
  if (!task) throw new Error('the task was not stored');
  return task;
}

/** Renews a lease and, where there is news, the progress. `held: false`: the lease was lost and the work must stop. */
export function beatTask(
  database: Database,
  input: { token: string; leaseMs: number; progress?: Progress | undefined },
): Promise<{ held: boolean; cancelAsked: boolean }> {
  return asSystem(database, async (tx) => {
    const rows = await tx
      .update(tasks)
      .set({
        leaseUntil: inMs(input.leaseMs),
        ...(input.progress
          ? { progress: input.progress, progressNumber: sql`${tasks.progressNumber} + 1` }
          : {}),
      })
      .where(holds(input.token))
      .returning({ cancelAsked: tasks.cancelAsked });
    return { held: rows.length > 0, cancelAsked: rows[0]?.cancelAsked ?? false };
  });
}

/**
 * Tells that a task's quote is there, and that what lies beside it is worked; renews the lease. In the transaction that
 * stores the quote. Throws LeaseLost where the lease is no longer held.
 */
export async function tellQuoted({
  ctx,
  input: { token, leaseMs },
}: {
  ctx: Ctx;
  input: { token: string; leaseMs: number };
}): Promise<void> {
  const rows = await ctx.tx
    .update(tasks)
    .set({
      leaseUntil: inMs(leaseMs),
      progress: {
        phase: 'beside',
        message: 'The quote is ready and can be read. What follows it is being worked out.',
      },
      progressNumber: sql`${tasks.progressNumber} + 1`,
    })
    .where(holds(token))
    .returning({ id: tasks.id });
  if (!rows[0]) throw new LeaseLost();
}

/** The worker no longer holds the task: somebody else took it up. */
export class LeaseLost extends Error {}

/** The task was to end as done, but somebody was promised that it ends cancelled. */
export class CancelWanted extends Error {}

export interface Finish {
  token: string;
  state: Extract<TaskState, 'done' | 'failed' | 'cancelled'>;
  message: string;
  problem?: TaskProblem;
  workSeconds: number;
  /** Ends as done though a cancel was asked: the quote was there by then. */
  evenIfCancelled?: boolean;
}

/**
 * Ends a task, once: a conditional update on the lease, in the transaction of what the task has to store. Throws LeaseLost
 * where the lease is no longer held, and CancelWanted where a task that is done was cancelled meanwhile, so that
 * everything beside it is rolled back.
 */
export async function finishTask({ ctx, input }: { ctx: Ctx; input: Finish }): Promise<void> {
  const rows = await ctx.tx
    .update(tasks)
    .set({
      state: input.state,
      ...released,
      problem: input.problem ?? null,
      workSeconds: input.workSeconds,
      finishedAt: sql`now()`,
      progress: {
        phase: 'writing',
        message: input.message,
        ...(input.state === 'done' ? { percent: 100 } : {}),
      },
      progressNumber: sql`${tasks.progressNumber} + 1`,
    })
    .where(
      input.state === 'done' && input.evenIfCancelled !== true
        ? and(holds(input.token), eq(tasks.cancelAsked, false))
        : holds(input.token),
    )
    .returning({ id: tasks.id, ownerId: tasks.ownerId, private: tasks.private });
  if (rows.length === 0) {
    const held = await ctx.tx.select({ id: tasks.id }).from(tasks).where(holds(input.token));
    throw held.length > 0 ? new CancelWanted() : new LeaseLost();
  }
  const [ended] = rows;
  if (ended) await record(ctx, `task.${input.state}`, ended.id, { privateTo: privateToOf(ended) });
}

/** A club's task. Error: NotFound. */
export async function getTask({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<Task> {
  const rows = await ctx.tx
    .select()
    .from(tasks)
    .where(and(eq(tasks.clubId, ctx.club), eq(tasks.id, input.id)));
  if (!rows[0]) throw new NotFound(`task ${input.id}`);
  return rows[0];
}

/**
 * Asks that a task be cancelled: at once where it waits, soon where it is worked. One whose quote is there already ends as
 * done soon, without what lies beside it; where it waits, as after a worker's stop, the next worker ends it. Errors: NotFound, Conflict where it has
 * ended.
 */
export async function cancelTask({ ctx, input }: { ctx: Ctx; input: { id: string } }): Promise<Task> {
  await getTask({ ctx, input });
  const cancelled: Progress = { phase: 'loading', message: 'Cancelled before it started.' };
  const isQuoted = sql`exists (select 1 from quotes q where q.club_id = ${ctx.club} and q.task_id = ${input.id} and q.result is not null)`;
  const ifWaiting = (then: SQL, column: AnyPgColumn) =>
    sql`case when ${tasks.state} = 'queued' and not ${isQuoted} then ${then} else ${column} end`;
  // One statement: a task that is claimed or handed back at this very moment is in one of the two states.
  const rows = await ctx.tx
    .update(tasks)
    .set({
      cancelAsked: true,
      state: ifWaiting(sql`'cancelled'`, tasks.state),
      finishedAt: ifWaiting(sql`now()`, tasks.finishedAt),
      progress: ifWaiting(sql`${JSON.stringify(cancelled)}::jsonb`, tasks.progress),
      progressNumber: sql`${tasks.progressNumber} + 1`,
    })
    .where(
      and(eq(tasks.clubId, ctx.club), eq(tasks.id, input.id), inArray(tasks.state, ['queued', 'running'])),
    )
    .returning();
  if (!rows[0]) throw new Conflict('task-ended', 'The task has already ended. There is nothing to cancel.');
  await record(ctx, 'task.cancel', input.id, { privateTo: privateToOf(rows[0]) });
  return rows[0];
}

/** What the event streams show of some tasks, whichever clubs they are of. */
export function readTasks(database: Database, ids: string[]): Promise<Task[]> {
  return asSystem(database, (tx) => tx.select().from(tasks).where(inArray(tasks.id, ids)));
}
