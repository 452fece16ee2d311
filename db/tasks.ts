import { and, eq, inArray, lt, or, sql, type SQL } from 'drizzle-orm';
import type { AnyPgColumn } from 'drizzle-orm/pg-core';
import type { Progress } from '../worker/engine/model/control.ts';
import { record, type Ctx } from './club.ts';
import type { Database } from './connect.ts';
import { Conflict, NotFound } from './errors.ts';
import { TASK_KINDS, TASK_STATES, tasks, type TaskProblem, type TaskState } from './schema/index.ts';
import { asSystem } from './system.ts';

export { TASK_KINDS, TASK_STATES };

export type Task = typeof tasks.$inferSelect;

/** How long after its last waking a queued task is woken again. */
const WAKE_AGAIN_MS = 15_000;

const inMs = (ms: number) => sql<Date>`now() + ${ms} * interval '1 millisecond'`;
const expired = () => and(eq(tasks.state, 'running'), lt(tasks.leaseUntil, sql`now()`));
const holds = (token: string) => and(eq(tasks.leaseToken, token), eq(tasks.state, 'running'));
const released = { leaseToken: null, leaseUntil: null } as const;

/** A new task of a quote, waiting for a worker; of an offer's price, with the offer. */
export async function newTask({
  ctx,
  input,
}: {
  ctx: Ctx;
  input: { kind: 'quote'; subject: string } | { kind: 'winningPrice'; subject: string; offerCode: string };
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

/** What a worker learns when it asks for a task: it has it, somebody else has it for a while, or there is nothing to do. */
export type Claim =
  | { outcome: 'claimed'; task: Task; token: string }
  | { outcome: 'leased'; forMs: number }
  | { outcome: 'nothingToDo' };

/** Takes the lease of a task that is queued or whose lease has run out. */
export function claimTask(
  database: Database,
  input: { id: string; token: string; leaseMs: number },
): Promise<Claim> {
  return asSystem(database, async (tx): Promise<Claim> => {
    const rows = await tx
      .update(tasks)
      .set({
        state: 'running',
        leaseToken: input.token,
        leaseUntil: inMs(input.leaseMs),
        attempts: sql`${tasks.attempts} + 1`,
        startedAt: sql`coalesce(${tasks.startedAt}, now())`,
        progress: { phase: 'loading', message: 'A worker has started it.' },
        progressNumber: sql`${tasks.progressNumber} + 1`,
      })
      .where(and(eq(tasks.id, input.id), or(eq(tasks.state, 'queued'), expired())))
      .returning();
    if (rows[0]) return { outcome: 'claimed', task: rows[0], token: input.token };
    const other = await tx
      .select({
        forMs: sql<number>`greatest(0, extract(epoch from ${tasks.leaseUntil} - now()) * 1000)::int`,
      })
      .from(tasks)
      .where(and(eq(tasks.id, input.id), eq(tasks.state, 'running')));
    return other[0] ? { outcome: 'leased', forMs: Number(other[0].forMs) } : { outcome: 'nothingToDo' };
  });
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

/** Gives a task back unfinished, as at an orderly stop; this attempt does not count. The number of its next waking, or undefined where the lease was lost. */
export function handBackTask(database: Database, input: { token: string }): Promise<number | undefined> {
  return asSystem(database, async (tx) => {
    const rows = await tx
      .update(tasks)
      .set({
        state: 'queued',
        ...released,
        attempts: sql`${tasks.attempts} - 1`,
        wokenAt: sql`now()`,
        wakeNumber: sql`${tasks.wakeNumber} + 1`,
        progress: { phase: 'loading', message: 'The worker stopped. Waiting for another worker.' },
        progressNumber: sql`${tasks.progressNumber} + 1`,
      })
      .where(holds(input.token))
      .returning({ wakeNumber: tasks.wakeNumber });
    return rows[0]?.wakeNumber;
  });
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
    .returning({ id: tasks.id });
  if (rows.length === 0) {
    const held = await ctx.tx.select({ id: tasks.id }).from(tasks).where(holds(input.token));
    throw held.length > 0 ? new CancelWanted() : new LeaseLost();
  }
  await record(ctx, `task.${input.state}`, rows[0]?.id ?? '');
}

/** Tasks that nobody works at: their lease ran out, or they wait longer than a waking takes. Each is to be woken now. */
export function sweepTasks(
  database: Database,
  waitedMs = WAKE_AGAIN_MS,
): Promise<{ id: string; wakeNumber: number }[]> {
  return asSystem(database, async (tx) => {
    const wokenLongAgo = lt(tasks.wokenAt, inMs(-waitedMs));
    const due = tx
      .select({ id: tasks.id })
      .from(tasks)
      .where(
        or(
          and(eq(tasks.state, 'queued'), wokenLongAgo),
          and(expired(), or(lt(tasks.wokenAt, sql`${tasks.leaseUntil}`), wokenLongAgo)),
        ),
      )
      .orderBy(tasks.createdAt)
      .limit(100)
      .for('update', { skipLocked: true });
    return tx
      .update(tasks)
      .set({ wokenAt: sql`now()`, wakeNumber: sql`${tasks.wakeNumber} + 1` })
      .where(inArray(tasks.id, due))
      .returning({ id: tasks.id, wakeNumber: tasks.wakeNumber });
  });
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
  await record(ctx, 'task.cancel', input.id);
  return rows[0];
}

/** What the event streams show of some tasks, whichever clubs they are of. */
export function readTasks(database: Database, ids: string[]): Promise<Task[]> {
  return asSystem(database, (tx) => tx.select().from(tasks).where(inArray(tasks.id, ids)));
}
