import { eq, sql } from 'drizzle-orm';
import type { Database, Tx } from './connect.ts';
import { holds, inMs, expired } from './lease.ts';
import { tasks } from './schema/index.ts';
import { asSystem } from './system.ts';
import type { Task } from './tasks.ts';

/**
 * A task that was lost this often is worked alone from then on, and waits its turn like any other: what ends a process
 * over and over may be the task.
 */
export const LOST_UNTIL_ALONE = 3;

/**
 * What a worker learns when it asks for work: it has a task; there is nothing to do; or the next task is one that is worked
 * alone, and the worker has others in hand.
 */
export type Claim =
  { outcome: 'claimed'; task: Task; token: string } | { outcome: 'nothingToDo' } | { outcome: 'wantsAlone' };

interface Next extends Record<string, unknown> {
  id: string;
  lost: boolean;
  alone: boolean;
}

/**
 * Takes the lease of the next task. First those whose worker was lost; then by turns: the club with the fewest tasks in
 * hand, of those the one that was served longest ago, and of its tasks the oldest. `free`: the worker has nothing in hand.
 */
export function claimNext(
  database: Database,
  { token, leaseMs, free }: { token: string; leaseMs: number; free: boolean },
): Promise<Claim> {
  return asSystem(database, async (tx): Promise<Claim> => {
    const next = await nextByTurns(tx);
    if (!next) return { outcome: 'nothingToDo' };
    if (next.alone && !free) return { outcome: 'wantsAlone' };
    const [task] = await tx
      .update(tasks)
      .set({
        state: 'running',
        leaseToken: token,
        leaseUntil: inMs(leaseMs),
        attempts: sql`${tasks.attempts} + 1`,
        lost: sql`${tasks.lost} + ${next.lost ? 1 : 0}`,
        alone: next.alone,
        startedAt: sql`coalesce(${tasks.startedAt}, now())`,
        progress: { phase: 'loading', message: 'A worker has started it.' },
        progressNumber: sql`${tasks.progressNumber} + 1`,
      })
      .where(eq(tasks.id, next.id))
      .returning();
    return task ? { outcome: 'claimed', task, token } : { outcome: 'nothingToDo' };
  });
}

/** The next task, locked; one that another worker is just taking is passed over. */
async function nextByTurns(tx: Tx): Promise<Next | undefined> {
  const wasLost = expired();
  const rows = await tx.execute<Next>(sql`
    with line as materialized (
      select club_id, count(*) filter (where state = 'running' and lease_until >= now()) as in_hand,
        (select max(s.started_at) from tasks s where s.club_id = o.club_id) as served
      from tasks o where state in ('queued', 'running') group by club_id)
    select tasks.id, coalesce(${wasLost}, false) as lost,
      tasks.alone or coalesce(${wasLost}, false) and tasks.lost + 1 >= ${LOST_UNTIL_ALONE} as alone
    from tasks join line on line.club_id = tasks.club_id
    where tasks.state = 'queued' or ${wasLost}
    order by coalesce(${wasLost}, false) and tasks.lost < ${LOST_UNTIL_ALONE} desc,
      line.in_hand, line.served nulls first, tasks.created_at, tasks.id
    limit 1 for update of tasks skip locked`);
  return listOf<Next>(rows)[0];
}

/** One of the two drivers answers with the rows, the other with an object that has them. */
function listOf<T>(answer: unknown): T[] {
  return (Array.isArray(answer) ? answer : (answer as { rows: T[] }).rows) as T[];
}

/**
 * Why a task is given back unfinished: its worker stops in order, and the attempt does not count; something beside the task
 * failed; its thread ended while others were in hand, and from now on it is worked alone; or its thread ended though it was
 * alone.
 */
export type GivenBack = 'stopping' | 'trouble' | 'crowded' | 'crashed';

const WAITS: Record<GivenBack, string> = {
  stopping: 'The worker stopped. Waiting for another worker.',
  trouble: 'The worker had trouble. Waiting to be tried again.',
  crowded: 'Its thread ended. Waiting to be tried again, alone.',
  crashed: 'Its thread ended. Waiting to be tried again, alone.',
};

/** Gives a task back unfinished. The number of its next waking, or undefined where the lease was lost. */
export function giveBack(
  database: Database,
  { token, why }: { token: string; why: GivenBack },
): Promise<number | undefined> {
  const crashed = why === 'crashed';
  return asSystem(database, async (tx) => {
    const rows = await tx
      .update(tasks)
      .set({
        state: 'queued',
        leaseToken: null,
        leaseUntil: null,
        ...(why === 'stopping' ? { attempts: sql`${tasks.attempts} - 1` } : {}),
        ...(crashed ? { crashed: sql`${tasks.crashed} + 1` } : {}),
        ...(crashed || why === 'crowded' ? { alone: true } : {}),
        wokenAt: sql`now()`,
        wakeNumber: sql`${tasks.wakeNumber} + 1`,
        progress: { phase: 'loading', message: WAITS[why] },
        progressNumber: sql`${tasks.progressNumber} + 1`,
      })
      .where(holds(token))
      .returning({ wakeNumber: tasks.wakeNumber });
    return rows[0]?.wakeNumber;
  });
}
